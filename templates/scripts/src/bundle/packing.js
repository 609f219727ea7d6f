/**
 * A dose as bits and back, exactly: the twin of handouts/bundle/packing.py.  Bits are a string of 0 and 1.
 */

import { amount_bits as AMOUNT_BITS, mark_bits as MARK_BITS, rest_step as REST_STEP, sides as PACKED_SIDES } from "../../../../handouts/bundle/code.json";
import { doseKind } from "./dose_words.js";
import { hundredthsOf, weightOf } from "./weight.js";

/** @typedef {import("./code.js").Dose} Dose */

const PACKED_KINDS = /** @type {(keyof typeof AMOUNT_BITS)[]} */ (Object.keys(AMOUNT_BITS));

/**
 * @param {number} value
 * @param {number} bits
 * @returns {string}
 */
export function writeBits(value, bits) {
  return bits ? value.toString(2).padStart(bits, "0") : "";
}

/** Bits from the first to the last; past the end all are 0, and `isOver` says so. */
export class BitReader {
  /** @param {string} bits */
  constructor(bits) {
    this.bits = bits;
    this.at = 0;
  }

  get isOver() {
    return this.at > this.bits.length;
  }

  /**
   * @param {number} count
   * @returns {number} the next bits as a number
   */
  take(count) {
    this.at += count;
    return parseInt(`0${this.bits.slice(this.at - count, this.at).padEnd(count, "0")}`, 2);
  }
}

/**
 * The bits of a dose, with the mark of its band.
 * @param {Dose} dose
 * @param {number | null} band
 * @returns {string}
 */
export function packDose(dose, band) {
  const kind = doseKind(dose);
  let bits = writeBits(PACKED_KINDS.indexOf(kind), 2) + writeBits(dose.sets, 4) + writeBits(dose[kind] ?? 0, AMOUNT_BITS[kind]);
  bits += writeBits(PACKED_SIDES.indexOf(dose.side), 3);
  if (kind === "reps") {
    bits += dose.hold === undefined ? "0" : `1${writeBits(dose.hold, 9)}`;
    bits += tempoBits(dose.tempo);
  }
  bits += restBits(dose.rest) + writeBits(dose.days ?? 0, 3);
  bits += dose.times === 1 ? "0" : `1${writeBits(dose.times, 4)}`;
  bits += effortBits(dose.effort);
  bits += weightBits(dose.weight);
  return bits + (band === null ? "0" : `1${writeBits(band, MARK_BITS)}`);
}

/**
 * @param {number[] | undefined} tempo
 * @returns {string}
 */
function tempoBits(tempo) {
  if (!tempo) return "0";
  const [go, hold, back, pause] = tempo;
  if (pause === 0 && Math.max(go, hold, back) < 8) return `10${[go, hold, back].map((part) => writeBits(part, 3)).join("")}`;
  return `11${tempo.map((part) => writeBits(part, 7)).join("")}`;
}

/**
 * @param {number} seconds
 * @returns {string}
 */
export function restBits(seconds) {
  if (seconds === 0) return "0";
  if (seconds % REST_STEP === 0 && seconds <= 16 * REST_STEP) return `10${writeBits(seconds / REST_STEP - 1, 4)}`;
  return `11${writeBits(seconds, 10)}`;
}

/**
 * @param {number[] | undefined} effort
 * @returns {string}
 */
function effortBits(effort) {
  if (!effort) return "0";
  if (effort.every(Number.isInteger)) return `10${effort.map((end) => writeBits(end, 4)).join("")}`;
  return `11${effort.map((end) => writeBits(Math.round(end * 100), 10)).join("")}`;
}

/**
 * @param {number | undefined} kilograms
 * @returns {string}
 */
export function weightBits(kilograms) {
  if (kilograms === undefined) return "0";
  const [hundredths, inPounds] = hundredthsOf(kilograms) ?? [0, false];
  return (inPounds ? "11" : "10") + writeBits(hundredths, 15);
}

/**
 * The dose at the reader's place, without its band, and the mark of that; nothing of it is known to be within bounds.
 * @param {BitReader} reader
 * @returns {{dose: Dose, band: number | null}}
 */
export function unpackDose(reader) {
  const kind = PACKED_KINDS[reader.take(2)];
  const sets = reader.take(4);
  const amount = reader.take(AMOUNT_BITS[kind]);
  // A number that stands for no side is written back as another one, so that the code is refused.
  const side = PACKED_SIDES[reader.take(3)] ?? "together";
  /** @type {Dose} */
  const dose = { sets, [kind]: amount, side, rest: 0, times: 1 };
  if (kind === "reps") {
    if (reader.take(1)) dose.hold = reader.take(9);
    const tempo = readTempo(reader);
    if (tempo) dose.tempo = tempo;
  }
  dose.rest = readRest(reader);
  const days = reader.take(3);
  if (days) dose.days = days;
  if (reader.take(1)) dose.times = reader.take(4);
  const effort = readEffort(reader);
  if (effort) dose.effort = effort;
  const weight = readWeight(reader);
  if (weight !== undefined) dose.weight = weight;
  return { dose, band: reader.take(1) ? reader.take(MARK_BITS) : null };
}

/**
 * @param {BitReader} reader
 * @returns {number | undefined} in kilograms
 */
export function readWeight(reader) {
  if (!reader.take(1)) return undefined;
  const inPounds = reader.take(1) === 1;
  return weightOf(reader.take(15), inPounds);
}

/**
 * @param {BitReader} reader
 * @returns {number[] | null}
 */
function readTempo(reader) {
  if (!reader.take(1)) return null;
  if (reader.take(1)) return [reader.take(7), reader.take(7), reader.take(7), reader.take(7)];
  return [reader.take(3), reader.take(3), reader.take(3), 0];
}

/**
 * @param {BitReader} reader
 * @returns {number}
 */
export function readRest(reader) {
  if (!reader.take(1)) return 0;
  return reader.take(1) ? reader.take(10) : (reader.take(4) + 1) * REST_STEP;
}

/**
 * @param {BitReader} reader
 * @returns {number[] | null}
 */
function readEffort(reader) {
  if (!reader.take(1)) return null;
  return reader.take(1) ? [reader.take(10) / 100, reader.take(10) / 100] : [reader.take(4), reader.take(4)];
}
