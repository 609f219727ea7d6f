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
 * @param {import("./book.js").StopRule[]} rules
 * @param {MyBook} book
 * @param {Speech} speech
 * @returns {HTMLElement[]}
 */
export function makeStops(rules, book, speech) {
  return rules.map((rule) => {
    const row = make("li", {}, [make("strong", {}, [rule.when]), " ", rule.do]);
    const { number, call } = book.clinic.emergency;
    if (rule.call === "emergency") row.append(" ", make("a", { class: "phone", href: call }, [speech.say("site.call_number", { number })]));
    return row;
  });
}
