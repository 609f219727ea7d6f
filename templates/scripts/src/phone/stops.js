/** Stop rules as elements, and titles by code. */

import { lookUp } from "../bundle/code.js";
import { make } from "../bundle/dom.js";

/** @typedef {import("../bundle/speech.js").Speech} Speech */
/** @typedef {import("./book.js").MyBook} MyBook */

/**
 * The title of an exercise; its code where it is no longer in the library.
 * @param {string} code
 * @param {MyBook} book
 * @returns {string}
 */
export function titleOf(code, book) {
  return lookUp(book.exercises, code)?.title ?? code;
}

/**
 * Stop rules whose sentence dials the emergency number that it names; where one that asks to call it names none, a link follows.
 * @param {import("./book.js").StopRule[]} rules
 * @param {MyBook} book
 * @param {Speech} speech
 * @returns {HTMLElement[]}
 */
export function makeStops(rules, book, speech) {
  const { number, call } = book.clinic.emergency;
  return rules.map((rule) => {
    const [before, after] = splitAt(rule.do, number);
    const act = make("span", {}, [before]);
    if (after !== null) act.append(make("a", { class: "phone", href: call }, [number]), after);
    else if (rule.call === "emergency") act.append(" ", make("a", { class: "phone", href: call }, [speech.say("site.call_number", { number })]));
    return make("li", {}, [make("strong", {}, [rule.when]), " ", act]);
  });
}

/**
 * What stands before and after the first mention of a number; the twin of handouts/site/page_frame.py.
 * @param {string} text
 * @param {string} number
 * @returns {[string, string | null]} the whole text and null where it is not named
 */
function splitAt(text, number) {
  for (let at = text.indexOf(number); at >= 0; at = text.indexOf(number, at + 1)) {
    const [before, after] = [text.slice(0, at), text.slice(at + number.length)];
    // Chinese has no blank between a number and the words around it.
    if (!/[0-9A-Za-z-]$/.test(before) && !/^[0-9A-Za-z-]/.test(after)) return [before, after];
  }
  return [text, null];
}
