/** Tables of empty boxes to tick, a row for each exercise and a column for each week: the twin of handouts/paper/ticks.py. */

/** @typedef {import("./speech.js").Speech} Speech */
/** @typedef {{heading: string, corner: string, heads: string[], rows: {name: string, boxes: number}[]}} TickTable */

const DAYS_A_WEEK = 7;

/**
 * @param {{name: string, days: number | undefined}[]} exercises
 * @param {number} weeks
 * @param {number} room  boxes in one row
 * @param {Speech} speech
 * @returns {TickTable[]}
 */
export function tickTables(exercises, weeks, room, speech) {
  const most = exercises.length ? Math.max(...exercises.map(({ days }) => days ?? DAYS_A_WEEK)) : DAYS_A_WEEK;
  const atOnce = Math.max(1, Math.floor(room / most));
  /** @type {TickTable[]} */
  const tables = [];
  for (let first = 0; first < weeks; first += atOnce) {
    const count = Math.min(atOnce, weeks - first);
    const heads = Array.from({ length: count }, (_, at) => speech.say("paper.week", { n: speech.number(first + at + 1) }));
    const rows = exercises.map(({ name, days }) => ({ name, boxes: days ?? DAYS_A_WEEK }));
    tables.push({ heading: speech.say("paper.ticks"), corner: speech.say("paper.exercise"), heads, rows });
  }
  return tables;
}
