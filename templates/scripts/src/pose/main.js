/** The posing bench: the text of a figure is all the state; each change asks the preview what comes of it. */

import { part } from "../page.js";
import { listenToContacts, listenToJoints, listenToProps, listenToWords, showContacts, showJoints, showProps, showWords } from "./fields.js";
import { Picture, pointName } from "./picture.js";
import { Talk } from "./talk.js";

/** @typedef {import("./talk.js").Answer} Answer */
/** @typedef {import("./fields.js").Edit} Edit */
/** @typedef {import("./picture.js").Drag} Drag */

const TYPING_MS = 400;
const main = document.querySelector("main");
const field = part("text", HTMLTextAreaElement);
const status = part("status", HTMLElement);
const undo = part("undo", HTMLButtonElement);
/** @type {Answer} */
const first = JSON.parse(part("answer", HTMLScriptElement).textContent ?? "");
/** @type {string[]} */
const before = [];
let text = first.text;
let saved = text;
let typing = 0;
let digest = main?.dataset["digest"] ?? "";
const say = (/** @type {string} */ said) => {
  status.textContent = said;
};
const talk = new Talk(location.pathname, say);
const picture = new Picture(part("picture", HTMLElement), part("chosen", HTMLSelectElement), drag);

/** @param {Answer} answer */
function showProblems(answer) {
  const problems = answer.problems ?? [];
  part("problems", HTMLUListElement).replaceChildren(
    ...problems.map((one) => {
      const item = document.createElement("li");
      item.className = one.grade;
      item.textContent = one.text;
      return item;
    }),
  );
}

/**
 * @param {Answer} answer
 * @param {string} done what was done, in words; '' for nothing to tell
 */
function show(answer, done) {
  if (answer.text !== text) {
    before.push(text);
    text = answer.text;
  }
  if (document.activeElement !== field) field.value = text;
  undo.disabled = before.length === 0;
  part("picture", HTMLElement).classList.toggle("stale", !answer.svg && !answer.refused);
  if (answer.svg) {
    picture.show(answer);
    part("alt", HTMLElement).textContent = answer.alt ?? "";
  } else {
    picture.set();
  }
  if (answer.angles) {
    showJoints(answer);
    showContacts(answer, change);
    showProps(answer, change);
    showWords(answer);
  }
  if (answer.problems) showProblems(answer);
  const count = answer.problems?.length ?? 0;
  const found = answer.refused ?? (count ? `${count} ${count === 1 ? "problem" : "problems"}.` : "No problem found.");
  say([done, found].filter(Boolean).join(" "));
}

/** What is being typed counts before anything else is done. */
function takeTyped() {
  if (!typing) return;
  clearTimeout(typing);
  typing = 0;
  before.push(text);
  text = field.value;
}

/** @param {Answer} answer */
function sketch(answer) {
  if (answer.refused) return;
  picture.sketch(answer);
  field.value = answer.text;
  showJoints(answer);
}

/**
 * @param {Edit} edit
 * @param {number} quick the picture to sketch; 0 for the whole drawing
 */
function change(edit, quick) {
  takeTyped();
  const body = () => ({ text, edit, quick });
  talk.ask({ body, quick: quick > 0, then: (answer) => (quick ? sketch(answer) : show(answer, "")) });
}

/**
 * @param {Drag} drag
 * @param {boolean} ended
 */
function drag(drag, ended) {
  takeTyped();
  const body = () => ({ text, drag, quick: ended ? 0 : drag.picture });
  const done = `${pointName(drag.point)} moved.`;
  talk.ask({ body, quick: !ended, then: (answer) => (ended ? show(answer, done) : sketch(answer)) });
}

/** @param {string} next */
function take(next) {
  talk.ask({
    body: () => ({ text: next }),
    quick: false,
    then: (answer) => show(answer, ""),
  });
}

field.addEventListener("input", () => {
  clearTimeout(typing);
  typing = setTimeout(() => {
    typing = 0;
    take(field.value);
  }, TYPING_MS);
});
undo.addEventListener("click", () => {
  const last = before.pop();
  if (last === undefined) return;
  text = last;
  take(last);
});
part("copy", HTMLButtonElement).addEventListener("click", async () => {
  const said = `figure:\n${text
    .trimEnd()
    .split("\n")
    .map((line) => (line ? `  ${line}` : line))
    .join("\n")}\n`;
  try {
    await navigator.clipboard.writeText(said);
    say("Copied.");
  } catch {
    field.focus();
    field.select();
    say("Copy the marked text.");
  }
});
document.getElementById("save")?.addEventListener("click", () => {
  takeTyped();
  talk.ask({
    body: () => ({ text, save: digest }),
    quick: false,
    then: (answer) => {
      if (answer.saved) {
        digest = answer.saved;
        saved = answer.text;
      }
      say(answer.saved ? "Saved." : (answer.refused ?? "Not saved."));
    },
  });
});
addEventListener("beforeunload", (event) => {
  if (main?.dataset["slug"] && text !== saved) event.preventDefault();
});
listenToJoints(change);
listenToContacts(change);
listenToProps(change);
listenToWords(change);
show(first, "");
