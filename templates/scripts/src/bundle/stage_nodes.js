/** The stages of an exercise's dose on a sheet, each with a box to tick: as templates/sheets/parts.html has them. */

import { bandName, wholeDose } from "./book.js";
import { make } from "./dom.js";
import { stageLines } from "./stages.js";

/**
 * @param {import("./code.js").Pick} pick
 * @param {import("./book.js").Book} book
 * @param {import("./speech.js").Speech} speech
 * @returns {HTMLElement[]}
 */
export function stageNodes(pick, book, speech) {
  const dose = wholeDose(pick, book);
  const lines = stageLines(dose, pick.stages ?? [], book.clinic.next?.after ?? 1, speech, bandName(dose, book));
  if (!lines.length) return [];
  return [make("p", { class: "stages-label" }, [speech.say("paper.stages")]), ...lines.map((line) => make("p", { class: "stage" }, [make("span", { class: "box" }), line]))];
}
