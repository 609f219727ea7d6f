/** Tables of empty boxes to tick, a row for each exercise and a column for each week: the twin of handouts/paper/ticks.py. */

import { isByOccasion } from "./dose_words.js";
import { dosesIn } from "./stages.js";

/** @typedef {import("./speech.js").Speech} Speech */
/** @typedef {{heading: string, corner: string, heads: string[], rows: {name: string, boxes: number[], box: string}[]}} TickTable  Of a row how many boxes each week has. */

const DAYS_A_WEEK = 7;

/**
 * The class of a day's box: a wider one where several marks are to be made in it.
 * @param {import("./code.js").Dose} dose
 * @returns {string}
 */
export function dayBox(dose) {
  return dose.times > 1 || isByOccasion(dose) ? "box tally" : "box";
}

/**
 * How many boxes a week has: one a day on which the stage of that week asks for it.
 * @param {import("./code.js").Dose} dose
 * @param {import("./stages.js").Stage[] | undefined} stages
 * @param {number} week
 * @returns {number}
 */
export function boxesInWeek(dose, stages, week) {
  return dosesIn(dose, stages ?? [], week).days ?? DAYS_A_WEEK;
}

/**
 * @param {{name: string, dose: import("./code.js").Dose, stages?: import("./stages.js").Stage[]}[]} exercises
 * @param {number} weeks
 * @param {number} room  boxes in one row
 * @param {Speech} speech
 * @returns {TickTable[]}
 */
export function tickTables(exercises, weeks, room, speech) {
  const boxes = exercises.map(({ dose, stages }) => Array.from({ length: weeks }, (_, at) => boxesInWeek(dose, stages, at + 1)));
  const most = exercises.length ? Math.max(...boxes.flat()) : DAYS_A_WEEK;
  const atOnce = Math.max(1, Math.floor(room / most));
  /** @type {TickTable[]} */
  const tables = [];
  for (let first = 0; first < weeks; first += atOnce) {
    const count = Math.min(atOnce, weeks - first);
    const heads = Array.from({ length: count }, (_, at) => speech.say("paper.week", { n: speech.number(first + at + 1) }));
    const rows = exercises.map(({ name, dose }, at) => ({ name, boxes: boxes[at].slice(first, first + count), box: dayBox(dose) }));
    tables.push({ heading: speech.say(exercises.every(({ dose }) => dayBox(dose) === "box") ? "paper.ticks" : "paper.ticks_wide"), corner: speech.say("paper.exercise"), heads, rows });
  }
  return tables;
}
