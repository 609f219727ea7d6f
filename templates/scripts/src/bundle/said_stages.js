/** What belongs to a pick beside its dose, in words: what is taken in place of things, and how the dose goes on over the weeks. */

import { namesOf, wholeDose } from "./book.js";
import { stageLines } from "./stages.js";
import { saySubstitutes } from "./substitutes.js";

/**
 * What is taken in place of things, then how the dose goes on.
 * @param {import("./code.js").Pick} pick
 * @param {import("./book.js").Book} book
 * @param {import("./speech.js").Speech} speech
 * @returns {string[]}
 */
export function sayBeside(pick, book, speech) {
  return [...sayInstead(pick, book, speech), ...sayStages(pick, book, speech)];
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
