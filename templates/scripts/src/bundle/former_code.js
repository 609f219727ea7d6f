/**
 * Codes that are seldom read: those of versions 1 and 2, each pick a mark of a dose and what was changed of it, never written; and
 * those of versions 5 to 7, a plan over weeks, what no earlier version holds of a dose, and what stands before another code.
 */

import {
  added_version as ADDED_VERSION, changed_digits as CHANGED_DIGITS, code_digits as CODE_DIGITS, digit_bits as DIGIT_BITS, dose_digits as DOSE_DIGITS, former_sides as SIDES, layouts,
  name_digits as NAME_DIGITS, side_version as SIDE_VERSION, stage_version as STAGE_VERSION, tempo_version as TEMPO_VERSION, version as CODE_VERSION, wide_version as WIDE_VERSION,
} from "../../../../handouts/bundle/code.json";
import { bitsOfAddition, needsAddition, openAddition, readAddition } from "./addition.js";
import { FIELDS, changeDose, decodeCode, digitsOf, isRefusal, lookUp, openFrame, openWhole, pickOf, placeDose, readNumber, readerOf, refuseDose, refuseField, refuseGiven, valueOf, withCheck, writeNumber } from "./code.js";
import { isWideTail, needsTail, readTail, refuseStages, stageChange, tailBits } from "./stages.js";
import { withoutMarks } from "./wide_dose.js";

/** @typedef {import("./code.js").Catalogue} Catalogue */
/** @typedef {import("./code.js").Change} Change */
/** @typedef {import("./code.js").Entry} Entry */
/** @typedef {import("./code.js").Field} Field */
/** @typedef {import("./code.js").Opened} Opened */
/** @typedef {import("./code.js").Pick} Pick */
/** @typedef {import("./code.js").Refusal} Refusal */
/** @typedef {{code: string, mark: string, values: [Field[], string][]}} RawPick  Of a former version; nothing of it is known to be true yet. */

const PICK_DIGITS = CODE_DIGITS + DOSE_DIGITS + CHANGED_DIGITS;
const HEAD_DIGITS = 1 + 2 * NAME_DIGITS + 1;

/** @type {Field[][][]} By former version, from 1, the fields by their bits; where a bit has two, the dose counts one of them. */
const LAYOUTS = layouts.map((bits) => bits.split(" ").map((names) => FIELDS.filter(({ name }) => names.split("|").includes(name))));

/**
 * The bundle of a code of any version, or of a link that ends in one, or why it is refused.
 * @param {string} text
 * @param {Catalogue} catalogue
 * @returns {Opened | Refusal}
 */
export function decodeBundle(text, catalogue) {
  return decodeCode(text, catalogue, readFormer);
}

/**
 * The bundle of a code of a former version or of a plan over weeks, or why it is refused.
 * @param {string} body  the code without its check, which fits
 * @param {number} version
 * @param {Catalogue} catalogue
 * @returns {Opened | Refusal}
 */
export function readFormer(body, version, catalogue) {
  if (version === ADDED_VERSION) return openAdded(body, catalogue);
  if (version === STAGE_VERSION || version === WIDE_VERSION) return openStaged(body, version === WIDE_VERSION, catalogue);
  const layout = LAYOUTS[version - 1];
  if (!layout) return { kind: "older", field: "version", value: version };
  const raw = body.length >= HEAD_DIGITS ? splitPicks(body.slice(HEAD_DIGITS), layout) : null;
  // No writer wrote the later version where nothing needed it.
  const idle = version === TEMPO_VERSION && !raw?.some(({ values }) => values.some(([[field]]) => field.name === "tempo"));
  if (raw === null || idle) return { kind: "damaged" };
  const marks = /** @type {[string, string]} */ ([body.slice(1, 1 + NAME_DIGITS), body.slice(1 + NAME_DIGITS, HEAD_DIGITS - 1)]);
  return openFrame(marks, readNumber(body[HEAD_DIGITS - 1]), undefined, raw, catalogue, readChanges);
}

/**
 * The bundle of a code of version 7: one of another version, with what stands before it.
 * @param {string} body  the code without its check, which fits
 * @param {Catalogue} catalogue
 * @returns {Opened | Refusal}
 */
function openAdded(body, catalogue) {
  const reader = readerOf(body.slice(1));
  const addition = readAddition(reader);
  const at = 1 + Math.ceil(reader.at / DIGIT_BITS);
  const inner = body.slice(at);
  const isWritten = inner && [CODE_VERSION, SIDE_VERSION, STAGE_VERSION, WIDE_VERSION].includes(readNumber(inner[0])) && digitsOf(bitsOfAddition(addition)) === body.slice(1, at);
  if (!isWritten || !needsAddition(addition)) return { kind: "damaged" };
  const opened = decodeCode(withCheck(inner), catalogue, readFormer);
  return isRefusal(opened) ? opened : openAddition(opened, addition, catalogue);
}

/**
 * The bundle of a code of version 5 or 6, with its cue and its stages, each of which may be given.
 * @param {string} body  the code without its check, which fits
 * @param {boolean} wide  of version 6
 * @param {Catalogue} catalogue
 * @returns {Opened | Refusal}
 */
function openStaged(body, wide, catalogue) {
  /** @type {import("./stages.js").Tail} */
  let tail = { weeks: 0, cue: "", stages: [], doses: [] };
  const opened = openWhole(withCheck(body), catalogue, (reader, doses) => {
    tail = readTail(reader, doses, writeNumber, wide);
    // Without a need for it the code is sealed as an earlier version, and so is damage.
    return { weeks: tail.weeks, bits: needsTail(tail) ? tailBits(tail, readNumber) : "", isWide: isWideTail(tail), doses: tail.doses };
  }, (raw, entry, known) => {
    const named = withoutMarks(raw.dose, raw.code, known);
    return "kind" in named ? named : placeDose({ ...raw, dose: named }, entry, known);
  });
  if (isRefusal(opened)) return opened;
  /** @type {Pick[]} */
  const picks = [];
  for (const [at, pick] of opened.bundle.picks.entries()) {
    const entry = catalogue.exercises[pick.code];
    let before = opened.doses[at];
    const stages = [];
    for (const { week, dose } of tail.stages[at]) {
      const change = stageChange(before, dose);
      if (!change || !Object.keys(change).length) return { kind: "damaged" };
      stages.push({ week, change });
      before = changeDose(before, change);
    }
    const refused = refuseStages(pick.code, opened.doses[at], stages, tail.weeks, (dose) => refuseGiven(pick.code, dose, pick.base ?? entry.dose, entry, catalogue));
    if (refused) return refused;
    picks.push(stages.length ? { ...pick, stages } : pick);
  }
  return { ...opened, bundle: { ...opened.bundle, picks, ...(lookUp(catalogue.cues, tail.cue) === undefined ? {} : { cue: tail.cue }) } };
}

/**
 * The picks of a code; null where the layout does not come out even.
 * @param {string} text
 * @param {Field[][]} layout
 * @returns {RawPick[] | null}
 */
function splitPicks(text, layout) {
  /** @type {RawPick[]} */
  const picks = [];
  let at = 0;
  while (at < text.length) {
    const head = text.slice(at, at + PICK_DIGITS);
    if (head.length < PICK_DIGITS) return null;
    at += PICK_DIGITS;
    const bits = readNumber(head.slice(-CHANGED_DIGITS));
    /** @type {[Field[], string][]} */
    const values = [];
    for (const [number, fields] of layout.entries()) {
      if (((bits >> number) & 1) === 0) continue;
      const { digits } = fields[0];
      if (text.length - at < digits) return null;
      values.push([fields, text.slice(at, at + digits)]);
      at += digits;
    }
    picks.push({ code: head.slice(0, CODE_DIGITS), mark: head.slice(CODE_DIGITS, -CHANGED_DIGITS), values });
  }
  return picks;
}

/**
 * The pick of a code of a former version.
 * @param {RawPick} raw
 * @param {Entry} entry
 * @param {Catalogue} catalogue
 * @returns {Pick | Refusal}
 */
function readChanges(raw, entry, catalogue) {
  const { code } = raw;
  const place = lookUp(entry.marked, raw.mark);
  if (place === undefined) return { kind: "older", exercise: code, field: "dose" };
  const base = [entry.dose, ...entry.former][place];
  /** @type {Change} */
  const change = {};
  for (const [fields, digits] of raw.values) {
    const field = fields.find(({ name }) => valueOf(base, name) !== undefined) ?? fields[0];
    const value = readValue(field, digits, catalogue);
    if (value === undefined) return { kind: "unknown", exercise: code, field: field.name, value: digits };
    const refusal = refuseField(code, field.name, value, base, entry.range, catalogue);
    if (refusal) return refusal;
    if (valueOf(base, field.name) === value) return { kind: "damaged" };
    change[field.name] = value;
  }
  return refuseDose(code, changeDose(base, change), entry.range) ?? pickOf(code, change, base, entry);
}

/**
 * The value that a field's digits stand for; a side that does not exist stays a number, and is out of bounds.
 * @param {Field} field
 * @param {string} digits
 * @param {Catalogue} catalogue
 * @returns {number | string | undefined}
 */
function readValue(field, digits, catalogue) {
  const number = readNumber(digits);
  if (field.name === "side") return SIDES[number] ?? number;
  if (field.name === "band") return lookUp(catalogue.bands, digits);
  return field.name === "weight" ? number / 100 : number;
}
