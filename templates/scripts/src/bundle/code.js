/**
 * Bundle codes: a bundle to its code and back, pure and total.  The specification is
 * handouts/bundle/CODE.md; handouts/bundle/code.py is the twin, and code.json beside it holds the numbers and names of both.  A code carries the whole dose of each exercise; codes
 * of versions 1 and 2 are read, never written.  Reading never throws, never moves a value into its bounds and never
 * gives a part of a bundle.
 */

import {
  added_version as ADDED_VERSION, bundle_digits as BUNDLE_DIGITS, check_digits as CHECK_DIGITS, code_digits as CODE_DIGITS, digit_bits as DIGIT_BITS,
  digits as DIGITS, fields, former_sides as SIDES, group as GROUP, mark_bits as MARK_BITS,
  most_characters as MOST_CHARACTERS, most_picks as MOST_PICKS, most_weeks as MOST_WEEKS, name_digits as NAME_DIGITS, origins as ORIGINS,
  named_sides as NAMED_SIDES, short_weeks as SHORT_WEEKS, side_version as SIDE_VERSION, stage_version as STAGE_VERSION, step_bits as STEP_BITS, tempo_sizes as TEMPO_SIZES, version as CODE_VERSION, wide_version as WIDE_VERSION,
} from "../../../../handouts/bundle/code.json";
import { additionOf, bitsOfAddition, needsAddition } from "./addition.js";
import { isOpen, keepWidth } from "./dose_words.js";
import { BitReader, packDose, unpackDose, writeBits } from "./packing.js";
import { isWideTail, needsTail, refuseStages, stageDoses, tailBits } from "./stages.js";
import { hundredthsOf } from "./weight.js";
import { withMarks } from "./wide_dose.js";

/**
 * @typedef {{sets: number, reps?: number, hold?: number, time?: number, distance?: number, side: string,
 *   tempo?: number[], rest: number, days?: number, times: number, effort?: number[], weight?: number, band?: string, pace?: number, limb?: string, count?: string, repsTo?: number,
 *   rate?: number, work?: string, paceWords?: string, warmUp?: number, coolDown?: number, every?: number, when?: string, restDays?: number}} Dose
 * Seconds (`every`: minutes), metres, kilograms and metres a second; names as in an exercise's file, or near them.
 * @typedef {Record<string, number | string>} Change  Fields of a dose that differ from the one it stands on; a tempo as one number,
 *   an effort as "4-6".
 * @typedef {Record<string, any[]>} DoseRange  Lowest and highest value by field; of tempo and side all that are offered.
 * @typedef {{slug: string, dose: Dose, range: DoseRange, former: Dose[], marked: Record<string, number>}} Entry
 * `marked`: by the mark of a dose in codes of versions 1 and 2 its place, 0 for the present one, then the former ones.
 * @typedef {{languages: Record<string, string>, locations: Record<string, string>, bands: Record<string, string>,
 *   exercises: Record<string, Entry>, withdrawn: Record<string, {title: string, by: string | null}>, site: string,
 *   formerSites: string[], programmes: Record<string, string>, bundles: Record<string, string>, cues: Record<string, string>,
 *   paces: Record<string, string>, occasions: Record<string, string>, serving: Record<string, {thing: string, codes: string[]}>, given: Record<string, string>}} Catalogue
 * Names by mark, exercises and programmes by code; `serving`: by mark in place of what something is taken, and in which exercises; `given`: by code what can be
 * handed over beside exercises.
 * @typedef {{code: string, change: Change, base?: Dose, stages?: import("./stages.js").Stage[], substitutes?: string[], part?: string}} Pick  `base`: the former dose of the library that the change stands on;
 *   `stages`: what comes after that dose; `substitutes`: marks of what is taken in place of things; `part`: of the session, none is the main part.
 * @typedef {{kind: string, slug: string, step: number, mark?: string}} Origin  A programme, with one of its steps from 1 or 0, or a
 *   ready-made bundle; where the library does not have it the slug is empty, and `mark` is what the code names it by.
 * @typedef {{language: string, location: string, weeks: number, picks: Pick[], origin?: Origin, cue?: string, roundRest?: number, given?: string[]}} Bundle  `cue`: the mark of what the session hangs on;
 *   `roundRest`: seconds after each round; `given`: codes of tests and leaflets that are handed over with it.
 * @typedef {{kind: string, exercise?: string, field?: string, value?: number | string, low?: number, high?: number,
 *   replacedBy?: string}} Refusal
 * @typedef {{bundle: Bundle, doses: Dose[], former: string[]}} Opened
 * @typedef {{name: string, digits: number}} Field
 */

const MARK_OF_ORIGIN = /^[2-9A-HJ-NP-Z]{4}$/;
/** What people type or print between groups. */
const BETWEEN = /[ \t\n\r\u00a0\u2009\u202f.·_\u2010-\u2014-]/g;
/** Fields that the clinician must fill in where a dose is open, as far as its range offers them. */
const TO_SET = ["sets", "reps", "hold", "time", "distance", "tempo", "side", "days", "times", "rest", "effort", "weight"];
/** The side that no code before version 6 holds. */
const EACH_OR_BOTH = "each-or-both";
const COUNTED = ["reps", "hold", "time", "distance", "effort"];

/** @type {Field[]} The fields that a clinician may move, with their digits in a code of version 1 or 2. */
export const FIELDS = Object.entries(fields).map(([name, digits]) => ({ name, digits }));

/**
 * CRC-32 (ISO-HDLC) of ASCII text.
 * @param {string} text
 * @returns {number}
 */
export function crc32(text) {
  let crc = 0xffffffff;
  for (let index = 0; index < text.length; index += 1) {
    crc ^= text.charCodeAt(index);
    for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return ~crc >>> 0;
}

/**
 * @param {number} value
 * @param {number} count
 * @returns {string}
 */
export function writeNumber(value, count) {
  let text = "";
  let rest = value;
  for (let index = 0; index < count; index += 1) {
    text = DIGITS[rest % 32] + text;
    rest = Math.floor(rest / 32);
  }
  return text;
}

/**
 * @param {string} digits
 * @returns {number}
 */
export function readNumber(digits) {
  let value = 0;
  for (const digit of digits) value = value * 32 + DIGITS.indexOf(digit);
  return value;
}

/**
 * A value of a table that comes from outside, never one of the object's own machinery.
 * @template T
 * @param {Record<string, T>} table
 * @param {string} key
 * @returns {T | undefined}
 */
export function lookUp(table, key) {
  return Object.hasOwn(table, key) ? table[key] : undefined;
}

/**
 * A tempo as the number that stands for it in a change; one that no range can offer as an author types it.
 * @param {number[]} tempo
 * @returns {number | string}
 */
function packTempo(tempo) {
  if (tempo.some((part, at) => part >= TEMPO_SIZES[at])) return tempoText(tempo);
  return tempo.reduce((value, part, at) => value * TEMPO_SIZES[at] + part, 0);
}

/**
 * @param {number} value
 * @returns {number[]}
 */
export function unpackTempo(value) {
  return [value >> 11, (value >> 7) & 15, (value >> 3) & 15, value & 7];
}

/**
 * @param {number[]} tempo
 * @returns {string} as an author types it
 */
export function tempoText(tempo) {
  return tempo.slice(0, tempo[3] ? 4 : 3).join("-");
}

/**
 * @param {Record<string, string>} names
 * @param {string} name
 * @returns {string | undefined}
 */
function markOf(names, name) {
  return Object.keys(names).find((mark) => names[mark] === name);
}

/**
 * @param {number} weeks
 * @param {number} picks
 * @param {number} most
 * @returns {Refusal | null}
 */
function refuseCounts(weeks, picks, most) {
  if (!(weeks >= 1 && weeks <= most)) {
    return { kind: "out-of-bounds", field: "weeks", value: weeks, low: 1, high: most };
  }
  if (!(picks >= 1 && picks <= MOST_PICKS)) {
    return { kind: "out-of-bounds", field: "picks", value: picks, low: 1, high: MOST_PICKS };
  }
  return null;
}

/**
 * Whether a field of an open dose has still to be filled in; once a day and no rest stand until then where the range allows them.
 * @param {Dose} dose
 * @param {string} name
 * @param {DoseRange} range
 * @returns {boolean}
 */
export function isUnset(dose, name, range) {
  if (name === "sets") return isOpen(dose);
  if (name === "times" || name === "rest") return dose[name] < (lookUp(range, name)?.[0] ?? 0);
  return name === "side" ? dose.side === "together" : valueOf(dose, name) === undefined;
}

/**
 * The fields that the clinician has still to fill in; none where the library has a dose.
 * @param {Dose} dose
 * @param {Entry} entry
 * @returns {string[]}
 */
export function unsetFields(dose, entry) {
  return isOpen(entry.dose) ? TO_SET.filter((name) => lookUp(entry.range, name) && isUnset(dose, name, entry.range)) : [];
}

/**
 * The sides that a clinician may choose: those of the range, else each in turn or one; none where there are no sides.  Where
 * one side may be given, it may be said which.
 * @param {Dose} dose
 * @param {DoseRange} range
 * @returns {string[]}
 */
export function sidesAllowed(dose, range) {
  const offered = lookUp(range, "side");
  if (isOpen(dose)) return withNamed(offered ?? []);
  if (dose.side === "together") return [];
  const plain = SIDES.slice(0, 2);
  return withNamed(offered ?? (plain.includes(dose.side) ? plain : [...plain, dose.side]));
}

/**
 * @param {string[]} sides
 * @returns {string[]} with left and right behind one, where that is among them
 */
function withNamed(sides) {
  return sides.flatMap((side) => (side === "one" ? [side, ...NAMED_SIDES] : [side]));
}

/**
 * Lowest and highest value of a number of the dose; null where it may not be moved.
 * @param {string} name
 * @param {Dose} dose
 * @param {DoseRange} range
 * @returns {number[] | null}
 */
export function boundsOf(name, dose, range) {
  const span = lookUp(range, name);
  if (!span || (COUNTED.includes(name) && !isOpen(dose) && valueOf(dose, name) === undefined)) return null;
  return span;
}

/**
 * A field of a dose as a change holds it.
 * @param {Dose} dose
 * @param {string} name
 * @returns {number | string | undefined}
 */
export function valueOf(dose, name) {
  if (name === "tempo") return dose.tempo && packTempo(dose.tempo);
  if (name === "effort") return dose.effort?.join("-");
  return /** @type {Record<string, number | string | undefined>} */ (/** @type {unknown} */ (dose))[name];
}

/**
 * Why one moved field is refused, or null.
 * @param {string} code
 * @param {string} name
 * @param {number | string} value
 * @param {Dose} dose
 * @param {DoseRange} range
 * @param {Catalogue} catalogue
 * @returns {Refusal | null}
 */
export function refuseField(code, name, value, dose, range, catalogue) {
  const outside = { kind: "out-of-bounds", exercise: code, field: name, value };
  if (name === "side") return sidesAllowed(dose, range).includes(String(value)) ? null : outside;
  if (name === "tempo") {
    const fits = (isOpen(dose) || dose.tempo) && lookUp(range, name)?.includes(Number(value));
    return fits ? null : { ...outside, value: tempoText(unpackTempo(Number(value))) };
  }
  if (name === "band") {
    if (!Object.values(catalogue.bands).includes(String(value))) return { ...outside, kind: "unknown" };
    return dose.band === undefined ? outside : null;
  }
  const span = boundsOf(name, dose, range);
  if (!span) return outside;
  if (name === "effort") return isWithin(String(value), span) ? null : { ...outside, low: span[0], high: span[1] };
  const fits = typeof value === "number" && value >= span[0] && value <= span[1] && isWritable(name, value);
  return fits ? null : { ...outside, low: span[0], high: span[1] };
}

/**
 * @param {string} effort
 * @param {number[]} span
 * @returns {boolean}
 */
function isWithin(effort, span) {
  const [low, high] = effort.split("-").map(Number);
  return span[0] <= low && low <= high && high <= span[1] && [low, high].every((end) => Math.round(end * 100) / 100 === end);
}

/**
 * @param {string} name
 * @param {number} value
 * @returns {boolean}
 */
function isWritable(name, value) {
  return name === "weight" ? hundredthsOf(value) !== null : Number.isInteger(value);
}

/**
 * Why a whole dose is refused: its first number outside the range, a tempo that is not offered, or null.
 * @param {string} code
 * @param {Dose} dose
 * @param {DoseRange} range
 * @returns {Refusal | null}
 */
export function refuseDose(code, dose, range) {
  for (const field of ["sets", "reps", "hold", "time", "distance", "days", "times", "rest", "weight"]) {
    const value = valueOf(dose, field);
    const span = lookUp(range, field);
    if (typeof value === "number" && span && !(value >= span[0] && value <= span[1])) {
      return { kind: "out-of-bounds", exercise: code, field, value, low: span[0], high: span[1] };
    }
  }
  const offered = lookUp(range, "tempo");
  if (dose.tempo && offered && !offered.includes(packTempo(dose.tempo))) {
    return { kind: "out-of-bounds", exercise: code, field: "tempo", value: tempoText(dose.tempo) };
  }
  const sides = lookUp(range, "side");
  if (sides && !withNamed(sides).includes(dose.side)) return { kind: "out-of-bounds", exercise: code, field: "side", value: dose.side };
  const span = lookUp(range, "effort");
  const effort = String(valueOf(dose, "effort"));
  if (!dose.effort || !span || isWithin(effort, span)) return null;
  return { kind: "out-of-bounds", exercise: code, field: "effort", value: effort, low: span[0], high: span[1] };
}

/**
 * The library's dose with the fields that a clinician moved.
 * @param {Dose} dose
 * @param {Change} change
 * @returns {Dose}
 */
export function changeDose(dose, change) {
  const { tempo, effort, ...rest } = change;
  const changed = keepWidth(dose, { ...dose, ...rest });
  if (tempo !== undefined) changed.tempo = unpackTempo(Number(tempo));
  if (effort !== undefined) changed.effort = String(effort).split("-").map(Number);
  return changed;
}

/**
 * A change without the fields that equal the dose.
 * @param {Change} change
 * @param {Dose} dose
 * @returns {Change}
 */
export function dropUnchanged(change, dose) {
  return Object.fromEntries(Object.entries(change).filter(([name, value]) => valueOf(dose, name) !== value));
}

/**
 * The code of a bundle, or why it is refused.
 * @param {Bundle} bundle
 * @param {Catalogue} catalogue
 * @returns {string | Refusal}
 */
export function encodeBundle(bundle, catalogue) {
  const language = markOf(catalogue.languages, bundle.language);
  if (language === undefined) return { kind: "unknown", field: "language", value: bundle.language };
  const location = markOf(catalogue.locations, bundle.location);
  if (location === undefined) return { kind: "unknown", field: "location", value: bundle.location };
  if (bundle.cue && lookUp(catalogue.cues, bundle.cue) === undefined) return { kind: "unknown", field: "cue", value: bundle.cue };
  const refusal = refuseCounts(bundle.weeks, bundle.picks.length, MOST_WEEKS);
  if (refusal) return refusal;
  const marks = markBits(catalogue.site) + markBits(language) + markBits(location);
  const origin = originBits(bundle.origin, catalogue);
  if (typeof origin !== "string") return origin;
  /** @type {WholePick[]} */
  const whole = [];
  /** @type {{week: number, dose: Dose}[][]} */
  const stages = [];
  for (const pick of bundle.picks) {
    const { code } = pick;
    const entry = lookUp(catalogue.exercises, code);
    if (!entry) return { kind: "unknown", field: "exercise", value: code };
    if (whole.some((one) => one.code === code)) return { kind: "repeated", exercise: code };
    const { base } = pick;
    if (base && !entry.former.some((dose) => isSameDose(dose, base))) return { kind: "older", exercise: code, field: "dose" };
    const change = dropUnchanged(pick.change, base ?? entry.dose);
    const refused = refuseChange(code, change, base ?? entry.dose, entry, catalogue);
    if (refused) return refused;
    const { band, ...dose } = changeDose(base ?? entry.dose, change);
    const next = pick.stages ?? [];
    const late = refuseStages(code, { ...dose, ...(band === undefined ? {} : { band }) }, next, bundle.weeks, (each) => refuseGiven(code, each, base ?? entry.dose, entry, catalogue));
    if (late) return late;
    stages.push(stageDoses(dose, next).slice(1).map((each, at) => ({ week: next[at].week, dose: each })));
    const mark = band === undefined ? null : readNumber(markOf(catalogue.bands, band) ?? "");
    whole.push({ code, dose: withMarks(dose, catalogue), band: mark });
  }
  const tail = { weeks: bundle.weeks, cue: bundle.cue ?? "", stages, doses: whole.map(({ dose }) => dose) };
  const isLong = needsTail(tail);
  const addition = additionOf(bundle, tail.doses, catalogue);
  if ("kind" in addition) return addition;
  const inner = seal(marks + writeBits(isLong ? 0 : bundle.weeks, 3) + origin + writeBits(whole.length, 4), whole, isLong ? tailBits(tail, readNumber) : "", isWideTail(tail));
  return needsAddition(addition) ? withCheck(writeNumber(ADDED_VERSION, 1) + digitsOf(bitsOfAddition(addition)) + inner.slice(0, -CHECK_DIGITS)) : inner;
}

/**
 * Why a whole dose may not be given in place of another.
 * @param {string} code
 * @param {Dose} given
 * @param {Dose} base
 * @param {Entry} entry
 * @param {Catalogue} catalogue
 * @returns {Refusal | null}
 */
export function refuseGiven(code, given, base, entry, catalogue) {
  return refuseChange(code, differenceOf(given, base), base, entry, catalogue);
}

/**
 * The fields in which a dose differs from the one that it stands on.
 * @param {Dose} given
 * @param {Dose} base
 * @returns {Change}
 */
function differenceOf(given, base) {
  /** @type {Change} */
  const change = {};
  for (const { name } of FIELDS) {
    const value = valueOf(given, name);
    if (value !== undefined && value !== valueOf(base, name)) change[name] = value;
  }
  return change;
}

/**
 * Whether two doses are the same but for the pace, which no code holds.
 * @param {Dose} one
 * @param {Dose} other
 * @returns {boolean}
 */
function isSameDose(one, other) {
  return FIELDS.every(({ name }) => valueOf(one, name) === valueOf(other, name)) && isElseAlike(one, other);
}

/**
 * Whether two doses are the same in what no clinician may move and a code holds.
 * @param {Dose} one
 * @param {Dose} other
 * @returns {boolean}
 */
function isElseAlike(one, other) {
  return Object.keys({ ...one, ...other }).every((name) => name in fields || ["pace", "limb"].includes(name) || valueOf(one, name) === valueOf(other, name));
}

/**
 * Why a dose may not be changed so.
 * @param {string} code
 * @param {Change} change
 * @param {Dose} base
 * @param {Entry} entry
 * @param {Catalogue} catalogue
 * @returns {Refusal | null}
 */
function refuseChange(code, change, base, entry, catalogue) {
  for (const { name } of FIELDS) {
    const value = lookUp(change, name);
    const refusal = value === undefined ? null : refuseField(code, name, value, base, entry.range, catalogue);
    if (refusal) return refusal;
  }
  const dose = changeDose(base, change);
  const [unset] = unsetFields(dose, { ...entry, dose: base });
  return unset ? { kind: "no-dose", exercise: code, field: unset } : refuseDose(code, dose, entry.range);
}

/**
 * @param {string} digits
 * @returns {string}
 */
function markBits(digits) {
  return writeBits(readNumber(digits), DIGIT_BITS * digits.length);
}

/**
 * Two bits for the kind, then what is named: never left out, as its cautions would be lost with it.  An origin that a
 * code named and the library does not have keeps its mark; a step that a code cannot hold is left out.
 * @param {Origin | undefined} origin
 * @param {Catalogue} catalogue
 * @returns {string | Refusal}
 */
function originBits(origin, catalogue) {
  if (!origin) return writeBits(0, 2);
  const { kind, slug, step } = origin;
  const known = kind === "programme" ? catalogue.programmes : catalogue.bundles;
  const mark = (slug ? markOf(known, slug) : origin.mark) ?? "";
  if (!ORIGINS.slice(1).includes(kind) || !MARK_OF_ORIGIN.test(mark)) return { kind: "unknown", field: kind, value: slug || (origin.mark ?? "") };
  if (kind === "bundle") return writeBits(2, 2) + markBits(mark);
  return writeBits(1, 2) + markBits(mark) + writeBits(step >= 0 && step < 2 ** STEP_BITS ? step : 0, STEP_BITS);
}

/**
 * @param {WholePick} pick
 * @returns {string}
 */
function pickBits(pick) {
  return markBits(pick.code) + packDose(pick.dose, pick.band);
}

/**
 * Version, the bits with those of the picks as digits, and the check.  The later version is written only where a side is named.
 * @param {string} head
 * @param {WholePick[]} picks
 * @param {string} [tail]  bits of a plan over weeks, or of what only the latest version holds
 * @param {boolean} [isWide]  whether only the latest version holds it
 * @returns {string}
 */
function seal(head, picks, tail = "", isWide = false) {
  const bits = head + picks.map(pickBits).join("") + tail;
  return withCheck(writeNumber(tail ? (isWide ? WIDE_VERSION : STAGE_VERSION) : picks.some(({ dose }) => NAMED_SIDES.includes(dose.side)) ? SIDE_VERSION : CODE_VERSION, 1) + digitsOf(bits));
}

/**
 * @param {string} bits
 * @returns {string} as digits, with zeros up to a whole one
 */
export function digitsOf(bits) {
  return Array.from({ length: Math.ceil(bits.length / DIGIT_BITS) }, (_, at) => DIGITS[parseInt(bits.slice(at * DIGIT_BITS, (at + 1) * DIGIT_BITS).padEnd(DIGIT_BITS, "0"), 2)]).join("");
}

/**
 * @param {string} body
 * @returns {string} a code without its check, and that
 */
export function withCheck(body) {
  return body + writeNumber(crc32(body), CHECK_DIGITS);
}

/**
 * @param {string} digits
 * @returns {BitReader}
 */
export function readerOf(digits) {
  return new BitReader(Array.from(digits, (digit) => writeBits(readNumber(digit), DIGIT_BITS)).join(""));
}

/**
 * A code as it is printed for people who type it: in groups, parted by spaces.
 * @param {string} code
 * @returns {string}
 */
export function groupCode(code) {
  return Array.from({ length: Math.ceil(code.length / GROUP) }, (_, at) => code.slice(at * GROUP, (at + 1) * GROUP)).join(" ");
}

/**
 * The bundle of a code or of a link that ends in one, or why it is refused; `former` where the reader of former versions is not there.
 * @param {string} text
 * @param {Catalogue} catalogue
 * @param {ReadFormer} [readFormer]  of a code whose check fits, without it (former_code.js)
 * @returns {Opened | Refusal}
 */
export function decodeCode(text, catalogue, readFormer) {
  const digits = cleanCode(text);
  if (digits === null) return { kind: "damaged" };
  const body = digits.slice(0, -CHECK_DIGITS);
  if (readNumber(digits.slice(-CHECK_DIGITS)) !== crc32(body)) return { kind: "damaged" };
  const version = readNumber(body[0]);
  if (version === CODE_VERSION || version === SIDE_VERSION) return openWhole(digits, catalogue);
  if (version > ADDED_VERSION) return { kind: "newer", field: "version", value: version };
  return readFormer ? readFormer(body, version, catalogue) : { kind: "former" };
}

/**
 * The bundle of a code of version 3 or later whose check fits.
 * @param {string} digits
 * @param {Catalogue} catalogue
 * @param {(reader: BitReader, doses: Dose[]) => {weeks: number, bits: string, isWide: boolean, doses: Dose[]}} [readTail]  of versions 5 and 6
 * @param {typeof placeDose} [place]
 * @returns {Opened | Refusal}
 */
export function openWhole(digits, catalogue, readTail, place = placeDose) {
  const reader = readerOf(digits.slice(1, -CHECK_DIGITS));
  const [site, language, location] = [0, 1, 2].map(() => writeNumber(reader.take(MARK_BITS), NAME_DIGITS));
  const weeks = reader.take(3);
  const kind = reader.take(2);
  const name = kind === 1 || kind === 2 ? writeNumber(reader.take(DIGIT_BITS * BUNDLE_DIGITS), BUNDLE_DIGITS) : "";
  const step = kind === 1 ? reader.take(STEP_BITS) : 0;
  const count = reader.take(4);
  const picks = Array.from({ length: count }, () => {
    const code = writeNumber(reader.take(DIGIT_BITS * CODE_DIGITS), CODE_DIGITS);
    return { code, ...unpackDose(reader) };
  });
  const tail = readTail?.(reader, picks.map(({ dose }) => dose));
  if (reader.isOver || (!tail && picks.some(({ dose }) => dose.side === EACH_OR_BOTH))) return { kind: "damaged" };
  tail?.doses.forEach((dose, at) => (picks[at].dose = dose));
  let bits = markBits(site) + markBits(language) + markBits(location) + writeBits(tail ? 0 : weeks, 3) + writeBits(kind, 2) + markBits(name);
  bits += (kind === 1 ? writeBits(step, STEP_BITS) : "") + writeBits(count, 4);
  // One bundle has one code: what is written otherwise than a writer writes is damage.
  if (kind >= ORIGINS.length || seal(bits, picks, tail?.bits, tail?.isWide) !== digits) return { kind: "damaged" };
  if (site !== catalogue.site && !catalogue.formerSites.includes(site)) return { kind: "elsewhere", field: "site", value: site };
  const slug = kind ? (lookUp(kind === 1 ? catalogue.programmes : catalogue.bundles, name) ?? "") : "";
  const origin = kind ? { kind: ORIGINS[kind], slug, step, ...(slug ? {} : { mark: name }) } : undefined;
  return openFrame([language, location], tail?.weeks ?? weeks, origin, picks, catalogue, place, tail ? MOST_WEEKS : SHORT_WEEKS);
}

/**
 * Whether the reader of codes refused.
 * @param {Opened | Refusal} result
 * @returns {result is Refusal}
 */
export function isRefusal(result) {
  return "kind" in result;
}

/**
 * What stands in a text as digits; null where it can be no code.
 * @param {string} text
 * @returns {string | null}
 */
export function cleanCode(text) {
  if (text.length > MOST_CHARACTERS) return null;
  const digits = text
    .slice(text.indexOf("#") + 1)
    .replace(BETWEEN, "")
    .replace(/[a-z]/g, (letter) => letter.toUpperCase());
  return digits.length > CHECK_DIGITS && /^[2-9A-HJ-NP-Z]+$/.test(digits) ? digits : null;
}

/** @typedef {(body: string, version: number, catalogue: Catalogue) => Opened | Refusal} ReadFormer */
/** @typedef {{code: string, dose: Dose, band: number | null}} WholePick  Its dose without the band, and the mark of that. */

/**
 * A bundle of the marks of its language and its location, and of its picks, each read by `read`.
 * @template {{code: string}} Raw
 * @param {[string, string]} marks
 * @param {number} weeks
 * @param {Origin | undefined} origin
 * @param {Raw[]} raw
 * @param {Catalogue} catalogue
 * @param {(raw: Raw, entry: Entry, catalogue: Catalogue) => Pick | Refusal} read
 * @param {number} [most]  weeks
 * @returns {Opened | Refusal}
 */
export function openFrame(marks, weeks, origin, raw, catalogue, read, most = SHORT_WEEKS) {
  const [language, location] = [lookUp(catalogue.languages, marks[0]), lookUp(catalogue.locations, marks[1])];
  if (language === undefined) return { kind: "unknown", field: "language", value: marks[0] };
  if (location === undefined) return { kind: "unknown", field: "location", value: marks[1] };
  const refusal = refuseCounts(weeks, raw.length, most);
  if (refusal) return refusal;
  const codes = raw.map((pick) => pick.code);
  const repeated = codes.find((code, index) => codes.indexOf(code) < index);
  if (repeated !== undefined) return { kind: "repeated", exercise: repeated };
  /** @type {Pick[]} */
  const picks = [];
  for (const item of raw) {
    const pick = openPick(item, catalogue, read);
    if ("kind" in pick) return pick;
    picks.push(pick);
  }
  const doses = picks.map(({ code, change, base }) => changeDose(base ?? catalogue.exercises[code].dose, change));
  const former = picks.filter(({ base }) => base).map(({ code }) => code);
  return { bundle: { language, location, weeks, picks, ...(origin ? { origin } : {}) }, doses, former };
}

/**
 * A pick with the library's dose on which its changes stand, where that is a former one; or why it is refused.
 * @template {{code: string}} Raw
 * @param {Raw} raw
 * @param {Catalogue} catalogue
 * @param {(raw: Raw, entry: Entry, catalogue: Catalogue) => Pick | Refusal} read
 * @returns {Pick | Refusal}
 */
function openPick(raw, catalogue, read) {
  const { code } = raw;
  const gone = lookUp(catalogue.withdrawn, code);
  if (gone) {
    const found = { kind: "withdrawn", exercise: code, value: gone.title };
    return gone.by === null ? found : { ...found, replacedBy: gone.by };
  }
  const entry = lookUp(catalogue.exercises, code);
  if (!entry) return { kind: "unknown", exercise: code, field: "exercise", value: code };
  return read(raw, entry, catalogue);
}

/**
 * @param {string} code
 * @param {Change} change
 * @param {Dose} base
 * @param {Entry} entry
 * @returns {Pick}
 */
export function pickOf(code, change, base, entry) {
  return base === entry.dose ? { code, change } : { code, change, base };
}

/**
 * The pick whose dose is the one that the code carries: the library's present or a former dose, changed as its range
 * allows.  Whatever the library says today, no other dose than the code's is ever given.
 * @param {WholePick} raw
 * @param {Entry} entry
 * @param {Catalogue} catalogue
 * @returns {Pick | Refusal}
 */
export function placeDose(raw, entry, catalogue) {
  const { code } = raw;
  const given = { ...raw.dose };
  if (raw.band !== null) {
    const mark = writeNumber(raw.band, NAME_DIGITS);
    const band = lookUp(catalogue.bands, mark);
    if (band === undefined) return { kind: "unknown", exercise: code, field: "band", value: mark };
    given.band = band;
  }
  /** @type {Refusal[]} */
  const found = [];
  for (const base of [entry.dose, ...entry.former]) {
    const change = differenceOf(given, base);
    const refused = refuseChange(code, change, base, entry, catalogue);
    // A change adds or moves a field; it cannot take one away.
    const fits = FIELDS.every(({ name }) => valueOf(given, name) !== undefined || valueOf(base, name) === undefined) && isElseAlike(given, changeDose(base, change));
    if (fits && !refused) return pickOf(code, change, base, entry);
    found.push(fits && refused ? refused : { kind: "older", exercise: code, field: "dose" });
  }
  // A number that may not be moved at all was another one in the library then.
  return found[0].low === undefined ? { kind: "older", exercise: code, field: "dose" } : found[0];
}
