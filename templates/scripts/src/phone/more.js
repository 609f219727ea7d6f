/** What waits for a tap on the patient's page: how to do it, the session with its side views, the end of it, the log. */

import { cleanCode } from "../bundle/code.js";
import { make, makeButton } from "../bundle/dom.js";
import { isByOccasion } from "../bundle/dose_words.js";
import { part } from "../page.js";
import { lessUpTo, stopRules } from "./book.js";
import { makeFacts, makeHow } from "./how.js";
import { picksOfPlan, readToday, showPlan, showSession } from "./my_plan.js";
import { eraseOffline } from "./lock.js";
import { HIGHEST_ANSWER, addEntry, addOccasion, answerAfter, hurtLastTime, lastTimes, noteDone, occasionsOn, shiftDay, unanswered } from "./log.js";
import { sayDay, today } from "../day.js";
import { showPhone } from "./list_view.js";
import { showLog, writeLogText } from "./log_view.js";
import { stopReading } from "./reader.js";
import { explainRefusal } from "./refused.js";
import { SHORT_DAY } from "./say.js";
import { Session } from "./session_view.js";
import { daysBetween } from "./shown_log.js";
import { makeStops } from "./stops.js";
import { changeLog, eraseAll, openLog, readKeptList, readListDay, readRunText, runKey } from "./store.js";
import { regainScreen } from "./wake.js";

/**
 * @typedef {{book: import("./book.js").MyBook, speech: import("../bundle/speech.js").Speech, list: import("./book.js").MyList | null,
 *   plan: string, busy: boolean, isLook: boolean, show: (view: string, first?: boolean) => void, note: (text: string) => void, showMine: (first: boolean) => void, loadScript: (address: string) => Promise<boolean>,
 *   start: (first: boolean) => void, loadInstructions: (code: string) => Promise<import("./book.js").Instructions | null>,
 *   loadFigure: (code: string) => Promise<{picture: import("./figure.js").Tree, motion: import("./motion.js").Motion | null} | null>}} MyPage
 * What the page offers to this part of it; `plan` is the code of the list as it was given; `busy` while a session is open; `isLook` where a clinician looks at it on the
 * clinic's computer, which keeps nothing of it.
 * @typedef {ReturnType<typeof openMore>} More
 */

/** @typedef {[string, Record<string, string>, (ViewTree | string)[]?]} ViewTree */

/**
 * @param {ViewTree} tree
 * @returns {HTMLElement}
 */
function makeTree([name, attributes, children = []]) {
  return make(name, attributes, children.map((child) => (typeof child === "string" ? child : makeTree(child))));
}

/** @param {MyPage} page */
function openMore(page) {
  const { book, speech } = page;
  part("list", HTMLElement).after(.../** @type {any} */ (globalThis).handoutsWords.views.map(makeTree));
  /** @type {Session | null} */
  let session = null;
  /** @type {import("./log.js").Entry | null} what the last session comes to */
  let entry = null;
  /** @type {import("./log.js").Log | null} the log of this visit, where nothing is kept */
  let unkept = null;

  /** The log as it is kept, or that of this visit. */
  function currentLog() {
    const { log, state } = openLog();
    if (state === "aside") page.note(speech.say("phone.log_aside"));
    if (state === "newer") page.note(speech.say("phone.log_newer"));
    return unkept ?? log;
  }

  /** @param {string} code */
  function isHurting(code) {
    return hurtLastTime(currentLog(), code, lessUpTo(book));
  }

  /** @param {import("../bundle/code.js").Refusal} refusal */
  function explain(refusal) {
    part("refused-why", HTMLElement).textContent = explainRefusal(refusal, book, speech);
  }

  /**
   * @param {string} code
   * @param {HTMLDetailsElement} details
   */
  async function fillHow(code, details) {
    const { list } = page;
    if (!list || details.querySelector(".see")) return;
    const words = await page.loadInstructions(code);
    details.replaceChildren(details.children[0], makeHow(words, list.place, speech, "h3"), ...makeFacts(code, list, book, speech, currentLog(), "h3"));
  }

  function startSession() {
    const { list } = page;
    if (!list) return;
    stopReading();
    if (session) session.pause(false);
    else {
      const kept = readRunText();
      const key = runKey(list);
      page.busy = true;
      session = new Session(page, list, sessionOver, kept.startsWith(key) ? kept.slice(key.length) : "");
    }
    if (session) page.show("session");
  }

  /** @param {import("./run.js").Run} run */
  function whatIsDone(run) {
    return (page.list?.picks ?? []).map(({ code, dose }, at) => noteDone(code, dose, run.bouts[at])).filter((one) => one.sets > 0);
  }

  /** @param {import("./run.js").Run} run */
  function sayDone(run) {
    const lines = whatIsDone(run).map((one) => speech.count("phone.sets_done", one.of, { exercise: book.exercises[one.code].title, done: speech.number(one.sets) }));
    return lines.map((line) => make("li", {}, [line]));
  }

  /** @param {import("./run.js").Run} run */
  function sessionOver(run) {
    session = null;
    page.busy = false;
    const done = whatIsDone(run);
    entry = { date: today(), done, effort: null, pain: null };
    part("done-list", HTMLUListElement).replaceChildren(...(done.length ? sayDone(run) : [make("li", {}, [speech.say("phone.after_nothing")])]));
    const isKept = done.length > 0 && !page.isLook;
    part("questions", HTMLElement).hidden = !isKept;
    part("save", HTMLElement).hidden = !isKept;
    part("no-save", HTMLElement).textContent = speech.say(isKept ? "phone.do_not_save" : "phone.to_list");
    const bound = speech.number(lessUpTo(book));
    part("pain-said", HTMLElement).textContent = speech.say(done.length > 1 ? "phone.pain_high_more" : "phone.pain_high", { bound });
    if (page.list) showPhone(part("pain-call", HTMLAnchorElement), page.list, book, speech);
    makeScale("effort");
    makeScale("pain");
    tellPain(0);
    page.show("after");
  }

  /**
   * Above the clinic's first bound its rule; above the second first what to do now and whom to call, and the flare plan too.
   * @param {number} value
   */
  function tellPain(value) {
    const [fine = HIGHEST_ANSWER] = book.clinic.bounds;
    for (const id of ["pain-calls", "pain-high"]) part(id, HTMLElement).hidden = value <= lessUpTo(book);
    const rule = part("pain-rule", HTMLElement);
    rule.hidden = value <= fine;
    if (!rule.hidden) rule.scrollIntoView({ block: "nearest" });
  }

  /** @param {"effort" | "pain"} name */
  function makeScale(name) {
    const field = part(name, HTMLFieldSetElement);
    field.replaceChildren(field.children[0], makeChoices(name, (value) => {
      if (entry) entry[name] = value;
      if (name === "pain") tellPain(value);
    }));
  }

  /**
   * The numbers of a scale to choose from.
   * @param {string} name
   * @param {(value: number) => void} chosen
   */
  function makeChoices(name, chosen) {
    return make("div", { class: "scale-row" }, Array.from({ length: HIGHEST_ANSWER + 1 }, (_, value) => {
      const input = /** @type {HTMLInputElement} */ (make("input", { type: "radio", name, value: String(value) }));
      input.addEventListener("change", () => chosen(value));
      return make("label", {}, [input, make("span", {}, [speech.number(value)])]);
    }));
  }

  /**
   * Changes the log that is kept, or that of this visit; says where it could not be kept.
   * @param {(log: import("./log.js").Log) => import("./log.js").Log} change
   */
  function keepChange(change) {
    const before = currentLog();
    const outcome = changeLog(change);
    if (outcome !== "kept" || unkept) unkept = change(before);
    if (outcome !== "kept") page.note(speech.say(outcome === "full" ? "phone.storage_full" : outcome === "newer" ? "phone.log_newer" : "phone.no_storage"));
  }

  function saveEntry() {
    const added = entry;
    if (!added) return;
    entry = null;
    keepChange((kept) => addEntry(kept, added));
    openLogView();
  }

  /** That a session of this day stands in the log: who opens the page again need not wonder. */
  function tellToday() {
    const isDone = !page.isLook && currentLog().entries.some(({ date }) => date === today());
    part("today", HTMLElement).textContent = isDone ? speech.say("phone.done_today") : "";
    part("today", HTMLElement).hidden = !isDone;
    askNextDay();
    showOccasions();
    if (page.list?.own) showSession(page.list, book, speech);
    if (page.list?.own) showPlan(page.plan, book, speech, /** @type {any} */ (globalThis).handoutsWords.plan, currentLog(), () => page.start(false));
  }

  /** Asks about the pain of yesterday's session where an exercise of it waits for that answer. */
  function askNextDay() {
    const place = part("next-day", HTMLElement);
    const yesterday = shiftDay(today(), -1);
    const codes = (page.list?.own ? page.list.picks : []).map(({ code }) => code).filter((code) => book.exercises[code].criteria.some(({ kind }) => kind === "pain_next_day"));
    place.hidden = page.isLook || !unanswered(currentLog(), yesterday, codes).length;
    if (place.hidden) return;
    const choices = makeChoices("after", (value) => {
      keepChange((log) => answerAfter(log, yesterday, codes, value));
      const high = book.clinic.bounds.length > 0 && value > book.clinic.bounds[0];
      told.replaceChildren(speech.say("phone.next_day_kept", { n: speech.number(value) }), ...(high ? [" ", book.clinic.pain] : []));
    });
    const told = make("p", { role: "status" }, []);
    place.replaceChildren(make("fieldset", { class: "scale" }, [make("legend", {}, [speech.say("phone.next_day")]), choices]), told);
  }

  /** At each exercise that is done by occasion a button that counts its times of today; at one with days of rest, that today is one. */
  function showOccasions() {
    const rows = Array.from(part("rows", HTMLOListElement).children);
    (page.list?.picks ?? []).forEach(({ code, dose }, at) => {
      const place = rows[at].querySelector(".row-text");
      if (isByOccasion(dose) && !page.isLook) place?.append(makeCounter(code, dose));
      const since = dose.restDays ? lastDay(code) : "";
      const rests = since && since !== today() && daysBetween(since, today()) <= (dose.restDays ?? 0);
      if (rests) place?.append(make("p", { class: "note" }, [speech.say("phone.rest_day", { day: sayDay(shiftDay(since, 1 + (dose.restDays ?? 0)), speech.language, SHORT_DAY) })]));
    });
  }

  /**
   * The latest day on which an exercise was done; empty where it was not.
   * @param {string} code
   */
  function lastDay(code) {
    return lastTimes(currentLog(), code, 1)[0]?.date ?? "";
  }

  /**
   * @param {string} code
   * @param {import("../bundle/code.js").Dose} dose
   */
  function makeCounter(code, dose) {
    const told = make("span", { role: "status" }, []);
    const say = () => (told.textContent = speech.count("phone.occasions", occasionsOn(currentLog(), today(), code)));
    const button = makeButton(speech.say("phone.occasion_done"), () => {
      keepChange((log) => addOccasion(log, today(), { ...noteDone(code, dose, 0), sets: dose.sets }));
      say();
    }, { class: "outline", "aria-label": speech.say("phone.occasion_done_of", { exercise: book.exercises[code].title }) });
    say();
    return make("p", { class: "row-count" }, [button, " ", told]);
  }

  function openLogView() {
    stopReading();
    showLog(currentLog(), book, speech);
    part("erase-ask", HTMLElement).hidden = true;
    part("shown", HTMLElement).hidden = true;
    part("show-log", HTMLElement).hidden = !page.list?.own;
    part("log-note", HTMLElement).textContent = "";
    page.show("log");
  }

  /** @returns {boolean} false where no session is under way */
  function openHurts() {
    if (!session) return false;
    session.pause(true);
    showPhone(part("hurts-call", HTMLAnchorElement), session.list, book, speech);
    part("hurts-stops", HTMLElement).replaceChildren(...makeStops(stopRules([session.code()], session.list.place, book), book, speech));
    part("hurts-easier", HTMLElement).replaceChildren(...easierWays(session.code(), "h3", "phone.hurts_none"));
    part("hurts-if", HTMLElement).hidden = !book.exercises[session.code()].easier.length;
    page.show("hurts");
    return true;
  }

  /**
   * The ways to make an exercise easier: this one changed first, then others; or that there is none.
   * @param {string} code
   * @param {"h2" | "h3"} level of the others' titles
   * @param {string} none phrase where there is none
   * @returns {HTMLElement[]}
   */
  function easierWays(code, level, none) {
    const picked = new Set(page.list?.picks.map((pick) => pick.code));
    const ways = book.exercises[code].easier;
    const changes = ways.flatMap(([other, change]) => (other ? [] : [make("p", { class: "lead" }, [change])]));
    const rows = ways.flatMap(([other, change]) => (other ? [easierRow(other, change, picked.has(other), level)] : []));
    if (!ways.length) return [make("p", {}, [speech.say(none)])];
    return rows.length ? [...changes, make("ul", { class: "rows" }, rows)] : changes;
  }

  /**
   * @param {string} code
   * @param {string} change what is different there
   * @param {boolean} isPicked
   * @param {"h2" | "h3"} level
   */
  function easierRow(code, change, isPicked, level) {
    const { title, picture } = book.exercises[code];
    const said = make("p", {}, [speech.say(isPicked ? "phone.hard_on_list" : "phone.hard_ask")]);
    return make("li", {}, [make("img", { class: "panel", src: picture, alt: "", width: "96", height: "96" }), make("div", {}, [said, make(level, {}, [title]), make("p", {}, [change])])]);
  }

  function openHard() {
    if (!session) return;
    session.pause(true);
    part("hard-easier", HTMLElement).replaceChildren(...easierWays(session.code(), "h2", "phone.hard_none"));
    page.show("hard");
  }

  /** Asks before a session is over: what was done until now, and a way back to it. */
  function askEnd() {
    if (!session) return;
    session.pause(true);
    part("ending-list", HTMLUListElement).replaceChildren(...sayDone(session.run));
    page.show("ending");
  }

  /** @param {boolean} leave leaves the exercise out */
  function backToSession(leave) {
    if (leave) session?.leaveOut();
    else session?.pause(false);
    if (session) page.show("session");
  }

  async function eraseEverything() {
    const storage = eraseAll();
    const offline = await eraseOffline();
    page.list = null;
    unkept = null;
    page.note("");
    history.replaceState(null, "", location.pathname + location.search);
    page.show("empty");
    const told = part("erased", HTMLElement);
    told.hidden = false;
    told.textContent = speech.say(storage && offline ? "phone.erased" : "phone.not_erased");
  }

  async function copyLog() {
    const told = part("log-note", HTMLElement);
    try {
      await navigator.clipboard.writeText(writeLogText(currentLog(), book, speech));
      told.textContent = speech.say("phone.copied");
    } catch {
      told.textContent = speech.say("phone.not_copied");
    }
  }

  /** Shows the log as a code for the clinic, or takes it away again. */
  async function showAtClinic() {
    const shown = part("shown", HTMLElement);
    if (!shown.hidden || !(await page.loadScript(book.show))) {
      if (shown.hidden) page.note(speech.say("phone.not_loaded"));
      shown.hidden = true;
      return;
    }
    const firstDay = page.plan === readKeptList() ? readListDay() : "";
    /** @type {any} */ (globalThis).handoutsShow(page, currentLog(), cleanCode(page.plan) ?? "", firstDay, picksOfPlan(page.plan, book, currentLog()));
  }

  function saveLogFile() {
    const address = URL.createObjectURL(new Blob([writeLogText(currentLog(), book, speech)], { type: "text/plain;charset=utf-8" }));
    make("a", { href: address, download: `${today()}.txt` }).click();
    setTimeout(() => URL.revokeObjectURL(address), 1000);
  }

  /**
   * The phone's own way back leaves a session waiting, never running on unseen.
   * @param {string} view
   * @returns {boolean} whether the view could be shown
   */
  function goBackTo(view) {
    session?.pause(true);
    if (view === "log") openLogView();
    else if (session && ["session", "hurts", "hard", "ending"].includes(view)) page.show(view);
    else return false;
    return true;
  }

  const leave = () => page.showMine(false);
  const asks = (/** @type {boolean} */ asked) => {
    part("erase-ask", HTMLElement).hidden = !asked;
    part(asked ? "keep" : "erase", HTMLButtonElement).focus();
  };
  const acts = {
    "act": () => session?.act(), "back": () => session?.back(), "skip": () => session?.skip(), "end": askEnd, "prop": () => session?.prop(),
    "ending-on": () => backToSession(false), "ending-now": () => session?.close(),
    "hurts-button": openHurts, "hurts-on": () => backToSession(false), "hurts-leave": () => backToSession(true), "hurts-end": () => session?.close(),
    "hard-button": openHard, "hard-on": () => backToSession(false), "hard-leave": () => backToSession(true),
    "save": saveEntry, "no-save": leave, "to-list": leave, "copy": copyLog, "save-file": saveLogFile, "show-log": showAtClinic, "print": () => print(),
    "erase": () => asks(true), "keep": () => asks(false), "erase-now": eraseEverything,
  };
  for (const [id, act] of Object.entries(acts)) part(id, HTMLButtonElement).addEventListener("click", act);
  document.addEventListener("visibilitychange", regainScreen);
  addEventListener("storage", () => {
    if (document.body.dataset.view === "log") showLog(currentLog(), book, speech);
  });
  Object.assign(book, /** @type {any} */ (globalThis).handoutsWords.plan.book);
  currentLog();
  return { readFormer: readToday(currentLog), fillHow, startSession, openLogView, openHurts, goBackTo, isHurting, tellToday, explain };
}

/** @type {any} */ (globalThis).handoutsMore = openMore;
