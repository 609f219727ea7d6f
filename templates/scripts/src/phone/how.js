/** The instructions of one exercise, as elements: the order of its page. */

import { make, makeButton } from "../bundle/dom.js";
import { readyPhrase } from "../bundle/steps.js";
import { sayCriteria } from "../bundle/criteria.js";
import { timesOf } from "./log.js";
import { offerReading } from "./reader.js";
import { sayLastTimes } from "./say.js";

/** @typedef {import("../bundle/speech.js").Speech} Speech */
/** @typedef {"h2" | "h3"} Level  Of headings, one below the title that they stand under. */

/**
 * @param {string} name
 * @param {string} text
 * @param {Record<string, string>} [attributes]
 * @returns {HTMLElement}
 */
function makeRead(name, text, attributes = {}) {
  return make(name, { "data-read": "", ...attributes }, [text]);
}

/**
 * @param {{kind: string, items: string[]}} block
 * @returns {HTMLElement[]}
 */
function makeBlock({ kind, items }) {
  if (kind === "paragraph") return items.map((item) => makeRead("p", item));
  const steps = kind === "steps";
  return [make(steps ? "ol" : "ul", { class: steps ? "steps" : "points" }, items.map((item) => make("li", {}, [makeRead("span", item)])))];
}

/**
 * @param {string} heading
 * @param {string[][]} pairs
 * @param {Level} level
 * @returns {HTMLElement[]}
 */
function makeSigns(heading, pairs, level) {
  if (!pairs.length) return [];
  const rows = pairs.map(([when, act]) => make("li", {}, [makeRead("strong", when), " ", makeRead("span", act)]));
  return [make("section", { class: "care" }, [makeRead(level, heading), make("ul", { class: "signs" }, rows)])];
}

/**
 * @param {import("./book.js").Instructions | null} words nothing where it could not be loaded
 * @param {import("../bundle/steps.js").BundlePlace} place
 * @param {Speech} speech
 * @param {Level} level
 * @returns {HTMLElement}
 */
export function makeHow(words, { programme }, speech, level) {
  const area = make("div", { class: "how" });
  if (!words) {
    area.append(make("p", { class: "note" }, [speech.say("phone.not_loaded")]));
    return area;
  }
  const button = /** @type {HTMLButtonElement} */ (makeButton(speech.say("phone.read_aloud"), () => {}, { class: "outline", hidden: "" }));
  if (words.older) area.append(make("p", { class: "mark" }, [words.older]));
  area.append(button, makeRead("p", words.why));
  for (const { heading, blocks } of words.sections) area.append(makeRead(level, heading), ...blocks.flatMap(makeBlock));
  area.append(...words.manner.map((line) => makeRead("p", line)));
  area.append(makeRead(level, speech.say("site.think_of")), ...makeBlock({ kind: "bullets", items: [...new Set([...words.cues, ...(programme?.cues ?? [])])] }));
  area.append(makeRead(level, speech.say("site.feel")), makeRead("p", words.feel));
  area.append(makeRead(level, speech.say("site.goes_wrong")));
  area.append(make("ul", { class: "mistakes" }, words.mistakes.map(([see, act]) => make("li", {}, [
    makeRead("p", see, { class: "see" }), make("p", { class: "do" }, [make("span", { class: "do-word" }, [speech.say("site.instead")]), " ", makeRead("span", act)]),
  ]))));
  area.append(...makeSigns(speech.say("site.ask"), words.ask, level), ...makeSigns(speech.say("site.care"), words.care, level));
  offerReading(button, area, speech.language, { read: speech.say("phone.read_aloud"), stop: speech.say("phone.stop_reading") });
  return area;
}

/**
 * The condition for the next exercise beside what the log says; never a command.
 * @param {string} code
 * @param {import("./book.js").MyList} list
 * @param {import("./book.js").MyBook} book
 * @param {Speech} speech
 * @param {import("./log.js").Log} log
 * @param {Level} level
 * @returns {HTMLElement[]}
 */
export function makeFacts(code, list, book, speech, log, level) {
  const { ready } = book.exercises[code];
  const times = sayLastTimes(log, code, speech);
  const told = times.length ? [make("ul", { class: "facts-list" }, times.map((line) => make("li", {}, [line])))] : [make("p", { class: "note" }, [speech.say("phone.not_yet")])];
  const shown = list.own ? list.picks.map((pick) => pick.code) : Object.keys(book.exercises);
  const condition = ready ? [make(level, {}, [speech.say(readyPhrase(code, shown, list.place, book))]), make("p", {}, [ready])] : [];
  const [met, ...criteria] = sayCriteria(book.exercises[code], timesOf(log, code), speech);
  if (met) told.push(make("p", {}, [met]), make("ul", { class: "facts-list" }, criteria.map((line) => make("li", {}, [line]))));
  const ask = ready ? [make("p", {}, [speech.say("phone.ask_before")])] : [];
  return [make("section", { class: "ready" }, [...condition, make(level, {}, [speech.say("phone.log_facts")]), ...told, ...ask])];
}
