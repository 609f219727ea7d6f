/** How the dose of a pick goes on over the weeks, in words. */

import { namesOf, wholeDose } from "./book.js";
import { stageLines } from "./stages.js";

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
