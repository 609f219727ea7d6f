/** A session on the screen: the step under way, its numbers and cues, the figure.  Time itself is in run.js. */

import { amountAlone, doseLine, doseNames, isInterval, timePhrase } from "../bundle/dose_words.js";
import { make } from "../bundle/dom.js";
import { saySubstitutes } from "../bundle/substitutes.js";
import { part } from "../page.js";
import { canVibrate, giveCue, wakeSound } from "./cues.js";
import { planList } from "./book.js";
import { makeFacts, makeHow } from "./how.js";
import { holdSession } from "./lock.js";
import { momentOf } from "./plan.js";
import { stopReading } from "./reader.js";
import { finishStep, goBack, isOver, leaveExercise, passTime, readRun, setRunning, skipExercise, skipStep, startRun, writeRun } from "./run.js";
import { SessionFigure } from "./session_figure.js";
import { keepCues, keepRunText, openLog, readCues, runKey } from "./store.js";
import { keepScreenOn } from "./wake.js";

/** @typedef {import("../bundle/speech.js").Speech} Speech */
/** @typedef {import("./book.js").MyList} MyList */
/** @typedef {import("./plan.js").Step} Step */
/** @typedef {import("./run.js").Run} Run */

const TICK_MILLISECONDS = 100;
const LAST_SECONDS = 3;
const HEARD_MILLISECONDS = 2000;
let forgetting = 0;
/** Seconds from which a time is shown in minutes and seconds. */
const LONG_TIME = 100;

export class Session {
  /**
   * @param {import("./more.js").MyPage} page
   * @param {MyList} list
   * @param {(run: Run) => void} over called once, at the end
   * @param {string} kept a session that a page put away left behind
   */
  constructor(page, list, over, kept = "") {
    this.page = page;
    this.list = list;
    this.book = page.book;
    this.speech = page.speech;
    this.over = over;
    this.plan = planList(list, this.book);
    this.run = readRun(kept, this.plan) ?? startRun(this.plan);
    this.cues = readCues();
    this.isPropped = false;
    this.figure = new SessionFigure(part("session-figure", HTMLElement), part("movement", HTMLButtonElement), page);
    this.shown = { exercise: -1, at: -1, moment: "" };
    this.release = holdSession();
    this.last = performance.now();
    this.timer = setInterval(() => this.tick(), TICK_MILLISECONDS);
    this.showSwitches();
    this.go(this.run);
  }

  /** @returns {Step} */
  step() {
    return this.plan[Math.min(this.run.at, this.plan.length - 1)];
  }

  /** The code of the exercise under way. @returns {string} */
  code() {
    return this.list.picks[this.step().exercise].code;
  }

  tick() {
    const now = performance.now();
    const passed = now - this.last;
    this.last = now;
    if (this.run.running) this.go(passTime(this.run, this.plan, passed));
  }

  /**
   * Takes over a state and shows it.
   * @param {Run} run
   */
  go(run) {
    const moved = run.at !== this.shown.at;
    this.run = run;
    if (isOver(run, this.plan)) return this.close();
    if (moved) this.arrive();
    this.showMoment();
    this.showActs();
  }

  /** The main button: begin, done, pause or go on. */
  act() {
    wakeSound();
    const step = this.step();
    if (step.waits) return this.tap(finishStep(this.run, this.plan));
    this.pause(this.run.running);
  }

  /**
   * Takes over a state that a tap made: time counts from now.
   * @param {Run} run
   */
  tap(run) {
    this.last = performance.now();
    this.go(run);
  }

  /** @param {boolean} paused */
  pause(paused) {
    this.tap(setRunning(this.run, !paused));
  }

  back() {
    this.tap(goBack(this.run, this.plan));
  }

  /** Leaves out what is shown: before it begins the whole exercise, then a set, a rest. */
  skip() {
    this.tap(this.step().kind === "begin" ? skipExercise(this.run, this.plan) : skipStep(this.run, this.plan));
  }

  leaveOut() {
    this.tap(leaveExercise(this.run, this.plan));
  }

  /** Number and word fill the screen, to be read from some steps away; or not any more. */
  prop() {
    this.isPropped = !this.isPropped;
    part("session-screen", HTMLElement).classList.toggle("propped", this.isPropped);
    setText("prop", this.speech.say(this.isPropped ? "phone.unprop" : "phone.prop"));
  }

  /** Ends the session where it is. */
  close() {
    if (this.isPropped) this.prop();
    clearInterval(this.timer);
    this.figure.stop();
    this.release();
    stopReading();
    keepScreenOn(false);
    keepRunText("");
    giveCue("end", this.cues);
    this.over(this.run);
  }

  /** A step begins. */
  arrive() {
    const { speech } = this;
    const step = this.step();
    this.shown.at = this.run.at;
    if (!this.page.isLook) keepRunText(runKey(this.list) + writeRun(this.run));
    keepScreenOn(true);
    if (this.run.at > 0) giveCue("go", this.cues);
    if (step.exercise !== this.shown.exercise) this.arriveAtExercise(step.exercise);
    this.figure.mirror(step.side === "other" || step.side === this.book.exercises[this.code()].mirror);
    part("session-line", HTMLElement).textContent = step.kind === "begin" ? [this.sayRound(step), ...this.sayInstead(), this.sayPosition()].filter(Boolean).join(" ") : this.sayBout(step);
    hear(join([this.sayPhase(step, -1), step.kind === "begin" ? "" : this.sayBout(step)], speech));
  }

  /** @param {number} exercise */
  async arriveAtExercise(exercise) {
    const { speech, book } = this;
    this.shown.exercise = exercise;
    const code = this.code();
    const held = [...new Set(this.plan.map((step) => step.exercise))];
    part("session-place", HTMLElement).textContent = speech.say("phone.exercise_of", { n: speech.number(held.indexOf(exercise) + 1), all: speech.number(held.length) });
    part("session-title", HTMLElement).textContent = book.exercises[code].title;
    const how = part("session-how", HTMLElement);
    how.replaceChildren();
    part("figure-note", HTMLElement).textContent = "";
    stopReading();
    const [words] = await Promise.all([this.page.loadInstructions(code), this.figure.show(code)]);
    if (code !== this.code() || isOver(this.run, this.plan)) return;
    part("figure-note", HTMLElement).textContent = /** @type {{note?: string}} */ (words ?? {}).note ?? "";
    this.figure.describe(words?.shown ?? "", words?.mirrored);
    const details = make("details", {}, [make("summary", {}, [speech.say("phone.how")]), makeHow(words, this.list.place, speech, "h2"), ...makeFacts(code, this.list, book, speech, openLog().log, "h2")]);
    how.replaceChildren(...this.sayInstead().map((line) => make("p", {}, [line])), details);
  }

  /** The numbers of this moment, and the cues that belong to their change. */
  showMoment() {
    const step = this.step();
    const moment = momentOf(step, this.run.elapsed / 1000);
    this.figure.follow(step.kind === "work" && moment.phase >= 0 ? () => this.shareNow(step) : null, step);
    const sign = `${this.run.at} ${moment.rep} ${moment.phase} ${moment.left} ${this.run.running}`;
    if (sign === this.shown.moment) return;
    const [at, rep, phase] = this.shown.moment.split(" ").map(Number);
    const changed = at === this.run.at && step.kind === "work" && (rep !== moment.rep || phase !== moment.phase);
    this.shown.moment = sign;
    if (changed) giveCue("turn", this.cues);
    if (changed && rep !== moment.rep) hear(this.speech.number(moment.rep));
    const counting = moment.phase < 0 && !(step.kind === "work" && step.waits) && moment.left > 0 && moment.left <= LAST_SECONDS;
    if (counting && this.run.running && at === this.run.at) giveCue("count", this.cues);
    if (step.kind === "begin" && step.seconds && moment.left === 0 && at === this.run.at) {
      giveCue("go", this.cues);
      hear(this.sayPhase(step, -1));
    }
    this.showNumbers(step, moment);
  }

  /**
   * How far the movement is at this instant, between two ticks too.
   * @param {Step} step
   */
  shareNow(step) {
    const since = this.run.running ? Math.max(0, performance.now() - this.last) : 0;
    return momentOf(step, (this.run.elapsed + since) / 1000).share;
  }

  /**
   * @param {Step} step
   * @param {import("./plan.js").Moment} moment
   */
  showNumbers(step, moment) {
    const { speech } = this;
    const byRep = step.kind === "work" && moment.phase >= 0;
    // A rest that was broken off is over: the exercise waits for its start.
    const timed = !byRep && (this.run.running || step.kind !== "begin") && !(step.kind === "work" && step.waits) && moment.left > 0;
    // The counter keeps its place: where nothing is counted the dose stands there.
    setText("count", byRep ? speech.number(moment.rep) : timed ? clock(moment.left, speech) : "");
    setText("count-word", byRep ? speech.count("phone.of_reps", step.reps) : timed ? "" : this.sayDose(step));
    const resting = step.kind === "begin" && timed;
    const phase = resting ? speech.say("phone.rest") : this.run.running || step.waits ? this.sayPhase(step, moment.phase) : speech.say("phone.paused");
    const held = byRep && step.beat[moment.phase] >= LAST_SECONDS && this.run.running;
    setText("phase", held ? join([phase, speech.number(moment.left)], speech) : phase);
    // The longest word fits across the screen; a sentence takes three lines or so, each word of it whole.
    const letters = Math.max(...phase.split(/\s/).map((word) => word.length), Math.ceil(phase.length / 3), 4);
    part("phase", HTMLElement).style.setProperty("--letters", String(held ? letters + 3 : letters));
    part("session-screen", HTMLElement).dataset.kind = step.kind;
    part("bar", HTMLProgressElement).value = step.seconds ? Math.min(1, this.run.elapsed / 1000 / step.seconds) : 0;
  }

  /** The button's word, and what a screen cannot do now. */
  showActs() {
    const step = this.step();
    const word =
      step.kind === "begin" ? "phone.begin_button"
        : step.waits ? "phone.done"
          : this.run.running ? "phone.pause" : "phone.go_on";
    setText("act", this.speech.say(word));
    const isSet = step.kind === "work" && step.sets > 1 && step.counted !== "hold";
    setText("skip", this.speech.say(step.kind === "begin" ? "phone.skip_exercise" : isSet ? "phone.skip_set" : "phone.skip"));
  }

  /**
   * The large word of a step or of a phase in it.
   * @param {Step} step
   * @param {number} phase
   * @returns {string}
   */
  sayPhase(step, phase) {
    const { speech } = this;
    if (step.kind === "begin") return speech.say("phone.begin");
    if (step.kind === "lead") return speech.say("phone.lead");
    if (step.kind === "turn") return speech.say("phone.change_sides");
    const { work = "" } = this.list.picks[step.exercise].dose;
    if (step.kind === "rest") return speech.say({ "run-walk": "phone.walk", "fast-easy": "phone.easy" }[work] ?? "phone.rest");
    if (step.kind === "warm") return speech.say("phone.warm_up");
    if (step.kind === "cool") return speech.say("phone.cool_down");
    if (step.kind === "work" && !step.waits && phase < 0 && work) return speech.say({ "run-walk": "phone.run", run: "phone.run", "fast-easy": "phone.fast" }[work] ?? "phone.keep_going");
    if (step.waits) return speech.say("phone.own_pace");
    if (phase < 0) return speech.say(step.counted === "hold" ? "phone.hold" : step.counted === "time" ? "phone.keep_going" : "phone.go");
    return [speech.say("phone.go"), speech.say("phone.hold"), speech.say("phone.return"), speech.say("phone.wait")][phase];
  }

  /** @returns {string} */
  sayPosition() {
    return this.speech.say("phone.now_position", { position: this.book.terms.positions[this.book.exercises[this.code()].position] });
  }

  /**
   * @param {Step} step
   * @returns {string} empty where it is not done in rounds
   */
  sayRound(step) {
    const { speech } = this;
    return step.inRounds ? speech.say("phone.round_of", { n: speech.number(step.set), all: speech.number(step.sets) }) : "";
  }

  /** What is taken in place of things. @returns {string[]} */
  sayInstead() {
    const pick = this.list.picks[this.step().exercise];
    return saySubstitutes(pick, pick.dose, this.book.substitutes ?? [], this.speech);
  }

  /**
   * @param {Step} step
   * @returns {string}
   */
  sayDose(step) {
    const { dose } = this.list.picks[step.exercise];
    return doseLine(dose, this.speech, doseNames(dose, this.book.terms));
  }

  /**
   * "Set 1 of 3 · first side · 10 times"
   * @param {Step} step
   * @returns {string}
   */
  sayBout(step) {
    const { speech } = this;
    const { dose } = this.list.picks[step.exercise];
    if (step.kind === "warm" || step.kind === "cool") return "";
    const values = { n: speech.number(step.set), all: speech.number(step.sets) };
    const set = step.sets === 1 ? "" : speech.say(step.counted === "hold" ? "phone.hold_of" : "phone.set_of", values);
    const side = { first: "phone.side_first", other: "phone.side_other" }[step.side] ?? `dose.side_${step.side.replaceAll("-", "_")}`;
    const amount =
      step.counted === "hold" ? timePhrase(dose.hold ?? 0, speech, "") : amountAlone(dose, speech);
    return join([set, step.side ? speech.say(side) : "", step.kind === "rest" && isInterval(dose) ? "" : amount], speech);
  }

  showSwitches() {
    const sound = part("sound", HTMLInputElement);
    const vibration = part("vibration", HTMLInputElement);
    sound.checked = this.cues.sound;
    vibration.checked = this.cues.vibration;
    part("vibration-label", HTMLElement).hidden = !canVibrate();
    const changed = () => {
      this.cues = { sound: sound.checked, vibration: vibration.checked };
      if (!this.page.isLook) keepCues(this.cues);
    };
    sound.onchange = changed;
    vibration.onchange = changed;
  }
}

/**
 * @param {string} id
 * @param {string} text
 */
function setText(id, text) {
  const element = part(id, HTMLElement);
  if (element.textContent !== text) element.textContent = text;
}

/**
 * Said by a screen reader, and gone before someone reads through the page: the same stands there to be seen.
 * @param {string} text
 */
function hear(text) {
  setText("heard", text);
  clearTimeout(forgetting);
  forgetting = setTimeout(() => setText("heard", ""), HEARD_MILLISECONDS);
}

/**
 * @param {string[]} parts
 * @param {Speech} speech
 * @returns {string}
 */
function join(parts, speech) {
  return parts.filter(Boolean).reduce((line, next) => (line ? speech.say("site.beside", { first: line, second: next }) : next), "");
}

/**
 * Seconds as "45", or as "12:05" where they are many.
 * @param {number} seconds
 * @param {Speech} speech
 * @returns {string}
 */
function clock(seconds, speech) {
  if (seconds < LONG_TIME) return speech.number(seconds);
  return `${speech.number(Math.floor(seconds / 60))}:${String(seconds % 60).padStart(2, "0")}`;
}
