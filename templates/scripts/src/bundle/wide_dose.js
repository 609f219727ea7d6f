/**
 * What only a code of version 6 holds of a dose: words for repetitions, rounds, pace in words, occasions, days of rest.  Names of
 * the vocabulary stand in a code as marks.  The twin of handouts/bundle/wide_dose.py.
 */

import { counted as COUNTED, mark_bits as MARK_BITS, name_digits as NAME_DIGITS, wide_bits as WIDE_BITS, works as WORKS, works_bits as WORKS_BITS } from "../../../../handouts/bundle/code.json";
import { writeBits } from "./packing.js";

/** @typedef {import("./code.js").Dose} Dose */

const NUMBERS = /** @type {(keyof typeof WIDE_BITS)[]} */ (Object.keys(WIDE_BITS));
const NAMES = /** @type {const} */ (["paceWords", "when"]);
/** Of each name the list of the catalogue that has it by mark, and its key in a file. */
const LISTS = /** @type {const} */ ({ paceWords: ["paces", "pace words"], when: ["occasions", "when"] });
/** Fields of a dose that no earlier version holds. */
const WIDE = /** @type {(keyof Dose)[]} */ (["count", "work", ...NUMBERS, ...NAMES, "restDays"]);

/**
 * Whether an earlier version could not hold the dose.
 * @param {Dose} dose
 * @returns {boolean}
 */
export function isWide(dose) {
  return dose.side === "each-or-both" || WIDE.some((name) => dose[name] !== undefined);
}

/**
 * A dose whose names are their marks.
 * @param {Dose} dose
 * @param {import("./code.js").Catalogue} catalogue
 * @returns {Dose}
 */
export function withMarks(dose, catalogue) {
  const marked = { ...dose };
  for (const name of NAMES) {
    const known = catalogue[LISTS[name][0]];
    if (dose[name] !== undefined) marked[name] = Object.keys(known).find((mark) => known[mark] === dose[name]) ?? "";
  }
  return marked;
}

/**
 * A dose whose marks are the library's names, or why it is refused.
 * @param {Dose} dose
 * @param {string} code
 * @param {import("./code.js").Catalogue} catalogue
 * @returns {Dose | import("./code.js").Refusal}
 */
export function withoutMarks(dose, code, catalogue) {
  const named = { ...dose };
  for (const name of NAMES) {
    const [list, field] = LISTS[name];
    const mark = dose[name];
    if (mark === undefined) continue;
    if (!Object.hasOwn(catalogue[list], mark)) return { kind: "unknown", exercise: code, field, value: mark };
    named[name] = catalogue[list][mark];
  }
  return named;
}

/**
 * The bits of a dose with marks.
 * @param {Dose} dose
 * @param {(mark: string) => number} readNumber
 * @returns {string}
 */
export function wideBits(dose, readNumber) {
  if (!WIDE.some((name) => dose[name] !== undefined)) return "0";
  let bits = `1${writeBits(COUNTED.indexOf(dose.count ?? ""), 2)}${writeBits(WORKS.indexOf(dose.work ?? ""), WORKS_BITS)}`;
  for (const name of NUMBERS) bits += dose[name] === undefined ? "0" : `1${writeBits(dose[name], WIDE_BITS[name])}`;
  for (const name of NAMES) bits += dose[name] === undefined ? "0" : `1${writeBits(readNumber(dose[name]), MARK_BITS)}`;
  return bits + writeBits(dose.restDays ?? 0, 2);
}

/**
 * A dose with what stands at the reader's place, its names as marks; a number that stands for nothing is written back as another one.
 * @param {import("./packing.js").BitReader} reader
 * @param {Dose} dose
 * @param {(value: number, digits: number) => string} writeNumber
 * @returns {Dose}
 */
export function readWide(reader, dose, writeNumber) {
  if (!reader.take(1)) return dose;
  const wide = { ...dose };
  const [count, work] = [COUNTED[reader.take(2)], WORKS[reader.take(WORKS_BITS)]];
  if (count) wide.count = count;
  if (work) wide.work = work;
  for (const name of NUMBERS) if (reader.take(1)) wide[name] = reader.take(WIDE_BITS[name]);
  for (const name of NAMES) if (reader.take(1)) wide[name] = writeNumber(reader.take(MARK_BITS), NAME_DIGITS);
  const restDays = reader.take(2);
  if (restDays) wide.restDays = restDays;
  return wide;
}
