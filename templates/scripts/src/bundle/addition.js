/**
 * What a bundle code of version 7 holds before one of versions 3 to 6: what is taken in place of things, parts of the session, what is
 * handed over beside.  The twin of handouts/bundle/addition.py.  Pure.
 */

import { code_digits as CODE_DIGITS, digit_bits as DIGIT_BITS, mark_bits as MARK_BITS, most_given as MOST_GIVEN, most_rest as MOST_REST, name_digits as NAME_DIGITS, parts as PARTS } from "../../../../handouts/bundle/code.json";
import { lookUp, readNumber, writeNumber } from "./code.js";
import { isByOccasion, isInterval } from "./dose_words.js";
import { readRest, restBits, writeBits } from "./packing.js";

/** @typedef {import("./code.js").Catalogue} Catalogue */
/** @typedef {import("./code.js").Dose} Dose */
/** @typedef {import("./code.js").Opened} Opened */
/** @typedef {import("./code.js").Refusal} Refusal */
/**
 * @typedef {{substitutes: [number, string][], parts: string[], rest: number, given: string[]}} Addition
 * Places of picks with the marks of what is taken there; the part of each pick, none where all belong to the main part; seconds after each round; codes.
 */

const [PLACE_BITS, SUBSTITUTES_BITS, PART_BITS, GIVEN_BITS] = [4, 5, 2, 3];
const ROUNDS = "rounds";

/**
 * Whether an earlier version could not hold it all.
 * @param {Addition} addition
 * @returns {boolean}
 */
export function needsAddition({ substitutes, parts, given }) {
  return substitutes.length > 0 || parts.some(Boolean) || given.length > 0;
}

/**
 * @param {Addition} addition
 * @returns {string} its bits
 */
export function bitsOfAddition({ substitutes, parts, rest, given }) {
  let bits = writeBits(substitutes.length, SUBSTITUTES_BITS) + substitutes.map(([at, mark]) => writeBits(at, PLACE_BITS) + writeBits(readNumber(mark), MARK_BITS)).join("");
  if (parts.some(Boolean)) {
    bits += `1${writeBits(parts.length, PLACE_BITS)}${parts.map((part) => writeBits(PARTS.indexOf(part), PART_BITS)).join("")}`;
    if (parts.includes(ROUNDS)) bits += restBits(rest);
  } else bits += "0";
  return bits + writeBits(given.length, GIVEN_BITS) + given.map((code) => writeBits(readNumber(code), DIGIT_BITS * CODE_DIGITS)).join("");
}

/**
 * What stands at the reader's place; nothing of it is known to be true yet.
 * @param {import("./packing.js").BitReader} reader
 * @returns {Addition}
 */
export function readAddition(reader) {
  const list = (/** @type {number} */ length, /** @type {() => any} */ read) => Array.from({ length }, read);
  const substitutes = list(reader.take(SUBSTITUTES_BITS), () => [reader.take(PLACE_BITS), writeNumber(reader.take(MARK_BITS), NAME_DIGITS)]);
  const parts = reader.take(1) ? list(reader.take(PLACE_BITS), () => PARTS[reader.take(PART_BITS)]) : [];
  const rest = parts.includes(ROUNDS) ? readRest(reader) : 0;
  const given = list(reader.take(GIVEN_BITS), () => writeNumber(reader.take(DIGIT_BITS * CODE_DIGITS), CODE_DIGITS));
  return { substitutes, parts, rest, given };
}

/**
 * What a bundle with these doses has beside what the other versions hold, or why that is refused.
 * @param {import("./code.js").Bundle} bundle
 * @param {Dose[]} doses
 * @param {Catalogue} catalogue
 * @returns {Addition | Refusal}
 */
export function additionOf({ picks, roundRest = 0, given = [] }, doses, catalogue) {
  /** @type {[number, string][]} */
  const substitutes = [];
  for (const [at, { code, substitutes: own = [], part = "" }] of picks.entries()) {
    const marks = [...own].sort((one, other) => readNumber(one) - readNumber(other));
    const refusal = refuseSubstitutes(code, marks, catalogue) ?? refusePart(code, part, doses[at]);
    if (refusal) return refusal;
    for (const mark of marks) substitutes.push([at, mark]);
  }
  const parts = picks.map(({ part = "" }) => part);
  for (const [at, code] of given.entries()) {
    if (lookUp(catalogue.given, code) === undefined) return { kind: "unknown", field: "given", value: code };
    if (given.indexOf(code) < at) return { kind: "repeated", exercise: code };
  }
  return refuseMany(given) ?? refuseRest(roundRest) ?? { substitutes, parts: parts.some(Boolean) ? parts : [], rest: roundRest, given };
}

/**
 * A bundle of another version with it, or why that is refused; a test or a leaflet that is not there any more is left out.
 * @param {Opened} opened
 * @param {Addition} addition
 * @param {Catalogue} catalogue
 * @returns {Opened | Refusal}
 */
export function openAddition(opened, { substitutes, parts, rest, given }, catalogue) {
  const { picks } = opened.bundle;
  const places = substitutes.map(([at, mark]) => at * 2 ** MARK_BITS + readNumber(mark));
  const isWhole = places.every((place, at) => !at || places[at - 1] < place) && new Set(given).size === given.length && [0, picks.length].includes(parts.length);
  if (!isWhole || substitutes.some(([at]) => at >= picks.length)) return { kind: "damaged" };
  /** @type {import("./code.js").Pick[]} */
  const made = [];
  for (const [at, pick] of picks.entries()) {
    const marks = substitutes.filter(([place]) => place === at).map(([, mark]) => mark);
    const part = parts[at] ?? "";
    const refusal = refuseSubstitutes(pick.code, marks, catalogue) ?? refusePart(pick.code, part, opened.doses[at]);
    if (refusal) return refusal;
    made.push({ ...pick, ...(marks.length ? { substitutes: marks } : {}), ...(part ? { part } : {}) });
  }
  const refusal = refuseRest(rest) ?? refuseMany(given);
  if (refusal) return refusal;
  const known = given.filter((code) => lookUp(catalogue.given, code) !== undefined);
  return { ...opened, bundle: { ...opened.bundle, picks: made, ...(rest ? { roundRest: rest } : {}), ...(known.length ? { given: known } : {}) } };
}

/**
 * Each must be known, serve in the exercise, and no thing have two.
 * @param {string} code
 * @param {string[]} marks
 * @param {Catalogue} catalogue
 * @returns {Refusal | null}
 */
function refuseSubstitutes(code, marks, catalogue) {
  const things = new Set();
  for (const mark of marks) {
    const serving = lookUp(catalogue.serving, mark);
    if (!serving) return { kind: "unknown", exercise: code, field: "substitute", value: mark };
    if (!serving.codes.includes(code) || things.has(serving.thing)) return { kind: "out-of-bounds", exercise: code, field: "substitute", value: mark };
    things.add(serving.thing);
  }
  return null;
}

/**
 * What is done by occasion is in no session; what has rounds of its own, or is done on one side first, is not done in rounds with others.
 * @param {string} code
 * @param {string} part
 * @param {Dose} dose
 * @returns {Refusal | null}
 */
export function refusePart(code, part, dose) {
  const isOut = part !== "" && (isByOccasion(dose) || (part === ROUNDS && (isInterval(dose) || dose.side === "one-side-first")));
  return isOut ? { kind: "out-of-bounds", exercise: code, field: "part", value: part } : null;
}

/**
 * @param {number} seconds
 * @returns {Refusal | null}
 */
function refuseRest(seconds) {
  return seconds >= 0 && seconds <= MOST_REST ? null : { kind: "out-of-bounds", field: "rounds", value: seconds, low: 0, high: MOST_REST };
}

/**
 * @param {string[]} given
 * @returns {Refusal | null}
 */
function refuseMany(given) {
  return given.length <= MOST_GIVEN ? null : { kind: "out-of-bounds", field: "given", value: given.length, low: 0, high: MOST_GIVEN };
}
