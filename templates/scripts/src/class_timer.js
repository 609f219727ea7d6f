/** The page of a class: its timer.  Nothing is stored and nothing sent; without this script the page is the plan. */

import { keepPages } from "./bundle/offline.js";
import { cueBetween, goBack, passTime, secondsLeft, skipPart } from "./class_run.js";
import { part } from "./page.js";
import { giveCue, wakeSound } from "./phone/cues.js";
import { keepScreenOn, regainScreen } from "./phone/wake.js";

/** @typedef {import("./class_run.js").Run} Run */

/** Milliseconds between two looks at the clock. */
const TICK = 200;

const dialog = part("timer", HTMLDialogElement);
const [says, round, clock, now, next] = ["says", "round", "clock", "now", "next"].map((name) => part(`timer-${name}`, HTMLElement));
const pause = part("timer-pause", HTMLButtonElement);
const sound = part("timer-sound", HTMLButtonElement);
const over = part("timer-over", HTMLTemplateElement).innerHTML;
/** @type {import("./class_run.js").Part[]} */
const parts = JSON.parse(dialog.dataset.parts ?? "");

/** @type {Run} */
let run = { at: 0, elapsed: 0 };
let running = false;
let begun = false;
let last = 0;
/** The part that is on the screen; -1 none. */
let shown = -1;

/** @param {boolean} on */
function setRunning(on) {
  running = on && run.at < parts.length;
  begun ||= running;
  last = performance.now();
  keepScreenOn(running);
  show();
}

/** @param {Run} changed */
function setRun(changed) {
  const cue = cueBetween(run, changed, parts);
  run = changed;
  if (cue) giveCue(cue, { sound: sound.getAttribute("aria-pressed") === "true", vibration: false });
  if (run.at >= parts.length && running) setRunning(false);
  else show();
}

/** What a part shows: the levels of its station, or what all do together; without links, which would lead away. */
function showPart() {
  shown = run.at;
  const present = parts[run.at];
  dialog.dataset.kind = present?.kind ?? "over";
  says.textContent = present?.says ?? over;
  round.textContent = present?.round ?? "";
  next.textContent = present?.next ?? "";
  const copy = document.querySelector(`#${present?.shows ?? "none"} .timed`)?.cloneNode(true);
  if (copy instanceof Element) {
    for (const link of copy.querySelectorAll("a")) {
      const title = document.createElement("b");
      title.append(...link.childNodes);
      link.replaceWith(title);
    }
  }
  now.replaceChildren(...(copy ? [copy] : []));
}

function show() {
  if (shown !== run.at) showPart();
  const left = secondsLeft(run, parts);
  clock.textContent = `${Math.floor(left / 60)}:${String(left % 60).padStart(2, "0")}`;
  dialog.classList.toggle("paused", !running);
  pause.textContent = (running ? pause.dataset.pause : begun ? pause.dataset.on : pause.dataset.begin) ?? "";
  pause.disabled = run.at >= parts.length;
}

function tick() {
  if (!running) return;
  const time = performance.now();
  const passed = time - last;
  last = time;
  setRun(passTime(run, parts, passed));
}

/** @param {() => Run} change  The clock goes on, or stays stopped, as it was. */
function move(change) {
  last = performance.now();
  setRun(change());
  if (!pause.disabled) pause.focus();
}

const skip = () => move(() => skipPart(run, parts));
const back = () => move(() => goBack(run));

part("timer-open", HTMLButtonElement).addEventListener("click", () => {
  if (run.at >= parts.length) [run, begun] = [{ at: 0, elapsed: 0 }, false];
  show();
  dialog.showModal();
  pause.focus();
});
dialog.addEventListener("close", () => setRunning(false));
part("timer-close", HTMLButtonElement).addEventListener("click", () => dialog.close());
part("timer-stop", HTMLAnchorElement).addEventListener("click", () => dialog.close());
pause.addEventListener("click", () => setRunning(!running));
part("timer-skip", HTMLButtonElement).addEventListener("click", skip);
part("timer-back", HTMLButtonElement).addEventListener("click", back);
sound.addEventListener("click", () => {
  sound.setAttribute("aria-pressed", String(sound.getAttribute("aria-pressed") !== "true"));
  wakeSound();
});
dialog.addEventListener("keydown", (event) => {
  const onwards = document.documentElement.dir === "rtl" ? "ArrowLeft" : "ArrowRight";
  if (event.ctrlKey || event.altKey || event.metaKey) return;
  if (event.key === onwards) skip();
  else if (event.key === "ArrowRight" || event.key === "ArrowLeft") back();
  else if (event.key === " " && !(event.target instanceof HTMLButtonElement)) setRunning(!running);
  else return;
  event.preventDefault();
});
document.addEventListener("visibilitychange", regainScreen);
setInterval(tick, TICK);
part("run", HTMLElement).hidden = false;
keepPages("../../../worker.js", () => {}, () => {});
