/** The stages of an exercise's dose on a sheet, each with a box to tick: as templates/sheets/parts.html has them. */

import { sayStages } from "./said_stages.js";
import { make } from "./dom.js";

/**
 * @param {import("./code.js").Pick} pick
 * @param {import("./book.js").Book} book
 * @param {import("./speech.js").Speech} speech
 * @returns {HTMLElement[]}
 */
export function stageNodes(pick, book, speech) {
  const lines = sayStages(pick, book, speech);
  if (!lines.length) return [];
  return [make("p", { class: "stages-label" }, [speech.say("paper.stages")]), ...lines.map((line) => make("p", { class: "stage" }, [make("span", { class: "box" }), line]))];
}
