/** What belongs to a pick beside its dose, in words: its part of the session, what is taken in place of things, and how the dose goes on over the weeks. */

import { namesOf, wholeDose } from "./book.js";
import { sayPartAt, sayParts } from "./parts.js";
import { stageLines } from "./stages.js";
import { saySubstitutes } from "./substitutes.js";

/**
 * What stands before the dose's own sentences: its part of the session, what is taken in place of things.
 * @param {import("./code.js").Pick} pick
 * @param {import("./book.js").Book} book
 * @param {import("./speech.js").Speech} speech
 * @returns {string[]}
 */
export function sayBefore(pick, book, speech) {
  return [...sayPartAt(pick, speech), ...sayInstead(pick, book, speech)];
}

/**
 * The parts of a session; none where all is the main part.
 * @param {import("./code.js").Bundle} bundle
 * @param {import("./book.js").Book} book
 * @param {import("./speech.js").Speech} speech
 * @returns {string[]}
 */
export function sayPartsOf({ picks, roundRest = 0 }, book, speech) {
  return sayParts(picks.map((pick) => ({ ...pick, dose: wholeDose(pick, book), title: book.exercises[pick.code].title })), roundRest, speech);
}

/**
 * What stands before the dose's own sentences, then how the dose goes on.
 * @param {import("./code.js").Pick} pick
 * @param {import("./book.js").Book} book
 * @param {import("./speech.js").Speech} speech
 * @returns {string[]}
 */
export function sayBeside(pick, book, speech) {
  return [...sayBefore(pick, book, speech), ...sayStages(pick, book, speech)];
}

/**
 * @param {import("./code.js").Pick} pick
 * @param {import("./book.js").Book} book
 * @param {import("./speech.js").Speech} speech
 * @returns {string[]}
 */
export function sayInstead(pick, book, speech) {
  return saySubstitutes(pick, wholeDose(pick, book), book.substitutes, speech);
}

/**
 * A line for each stage; none where it stays.
 * @param {import("./code.js").Pick} pick
 * @param {import("./book.js").Book} book
 * @param {import("./speech.js").Speech} speech
 * @returns {string[]}
 */
export function sayStages(pick, book, speech) {
  const dose = wholeDose(pick, book);
  return stageLines(dose, pick.stages ?? [], book.clinic.next?.after ?? 1, speech, namesOf(dose, book));
}
