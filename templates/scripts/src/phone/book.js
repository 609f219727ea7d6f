/**
 * What the patient's page knows of the library; written by handouts/phone/page_data.py.  Here are its shape and small
 * questions to it.
 */

/**
 * @typedef {import("../bundle/code.js").Entry & {title: string, position: string, equipment: string[], easier: [string, string][],
 *   stop: string[], after: string[], step: string, ready: string, criteria: import("../bundle/criteria.js").Criterion[], whole: boolean, until: string, picture: string, mirror?: string, words: string,
 *   figure: string}} MyEntry
 * Addresses as seen from the page; `mirror` is the side that the picture shows only mirrored; `until` is the last day on which it
 * holds; `stop` names stop rules.  `easier`, `after`, `step`, `ready`, `criteria`, `whole` (the condition is made of these), `words` and `figure` come with the rest of the page's script;
 * `easier` holds ways to make it easier: the other exercise's code (empty where this one is changed), and what changes.
 * @typedef {{when: string, do: string, call: string}} StopRule
 * @typedef {Omit<import("../bundle/code.js").Catalogue, "exercises"> & {exercises: Record<string, MyEntry>, language: string,
 *   terms: {equipment: Record<string, string>, bands: Record<string, string>, positions: Record<string, string>, paces: Record<string, string>, occasions: Record<string, string>},
 *   stops: Record<string, StopRule>, signs: Record<string, string[]>, origins: import("../bundle/steps.js").Origins, policy: {change: number, between: number}, words: import("../bundle/speech.js").Words,
 *   clinic: {name: string, pain: string, effort?: string, bounds: number[], emergency: {number: string, call: string},
 *     locations: Record<string, {name: string, phone: string, call: string}>},
 *   substitutes?: import("../bundle/substitutes.js").Substitute[], handed?: Record<string, [string, string]>, tongues: Record<string, string>, more: string, later: string, style: string, show: string}} MyBook
 * `tongues`: the address of this page in each language; `more`, `later` and `style`: the rest of the page's script, its words, its style sheet; `show`: what shows the log as a code; `substitutes` come with the rest of the script, as what is handed over beside.
 * @typedef {{older?: string, why: string, manner: string[], sections: {heading: string, blocks: {kind: string, items: string[]}[]}[], cues: string[],
 *   feel: string, mistakes: string[][], ask: string[][], care: string[][], shown: string, mirrored?: string}} Instructions
 * @typedef {{code: string, dose: import("../bundle/code.js").Dose, substitutes?: string[], part?: string}} MyPick
 * @typedef {{picks: MyPick[], location: string, weeks: number, former: string[], own: boolean,
 *   place: import("../bundle/steps.js").BundlePlace, roundRest?: number, given?: string[]}} MyList
 * `own` is false where one exercise was opened from its page; `weeks` is 0 where nobody set them; `place`: what it was begun from.
 */

import { decodeCode, isRefusal, lookUp } from "../bundle/code.js";
import { isOpen } from "../bundle/dose_words.js";
import { NO_PLACE, originOf, placeOf } from "../bundle/steps.js";
import { HIGHEST_ANSWER } from "./log.js";
import { planSession } from "./plan.js";

/** @returns {MyBook} */
export function readBook() {
  return JSON.parse(document.getElementById("book")?.textContent ?? "{}");
}

/**
 * The list of a code, of the code of one exercise, or why it is refused.
 * @param {string} text
 * @param {MyBook} book
 * @param {import("../bundle/code.js").ReadFormer} [readFormer]  comes with the rest of the script
 * @returns {{list: MyList, language: string} | import("../bundle/code.js").Refusal}
 */
export function openList(text, book, readFormer) {
  const one = /^#?([2-9A-HJ-NP-Z]{4})$/i.exec(text);
  const entry = one && lookUp(book.exercises, one[1].toUpperCase());
  if (one && entry && isOpen(entry.dose)) return { kind: "no-dose", exercise: one[1].toUpperCase() };
  if (one && entry) {
    const list = { picks: [{ code: one[1].toUpperCase(), dose: entry.dose }], location: Object.values(book.locations)[0], weeks: 0, former: [], own: false, place: NO_PLACE };
    return { list, language: book.language };
  }
  const opened = decodeCode(text, book, readFormer);
  if (isRefusal(opened)) return opened;
  const { bundle, doses, former } = opened;
  const picks = bundle.picks.map(({ code, substitutes, part }, at) => ({ code, dose: doses[at], substitutes, part }));
  return { list: { picks, location: bundle.location, weeks: bundle.weeks, former, own: true, place: placeOf(originOf(bundle), book), roundRest: bundle.roundRest, given: bundle.given }, language: bundle.language };
}

/**
 * The highest answer on pain with which an exercise may go on, if less of it; the highest of all where the clinic sets none.
 * @param {MyBook} book
 * @returns {number}
 */
export function lessUpTo(book) {
  return book.clinic.bounds[1] ?? HIGHEST_ANSWER;
}

/**
 * The stop rules of some exercises and of what the list was begun from, each once, the gravest first.
 * @param {string[]} codes
 * @param {import("../bundle/steps.js").BundlePlace} place
 * @param {MyBook} book
 * @returns {StopRule[]}
 */
export function stopRules(codes, place, book) {
  const named = new Set([...codes.flatMap((code) => book.exercises[code].stop), ...place.cautions.stop]);
  return Object.entries(book.stops).filter(([slug]) => named.has(slug)).map(([, rule]) => rule);
}

/**
 * The exercises of a list as a session takes them.
 * @param {MyList} list
 * @param {MyBook} book
 * @returns {import("./plan.js").Row[]}
 */
export function rowsOf(list, book) {
  return list.picks.map(({ code, dose, part }) => ({ dose, position: book.exercises[code].position, part }));
}

/**
 * The steps of a session of a list.
 * @param {MyList} list
 * @param {MyBook} book
 * @returns {import("./plan.js").Step[]}
 */
export function planList(list, book) {
  return planSession(rowsOf(list, book), book.policy, list.roundRest);
}
