/**
 * A plan over weeks: the doses of its stages, which one a week is in, how fast the work grows, in words, and as the tail of a
 * bundle code of versions 5 and 6.  The twin of handouts/dose/stages.py and handouts/bundle/stages.py.  Pure.
 */

import { amount_bits as AMOUNT_BITS, mark_bits as MARK_BITS, most_stages as MOST_STAGES, name_digits as NAME_DIGITS, short_weeks as SHORT_WEEKS, staged as STAGED } from "../../../../handouts/bundle/code.json";
import { daysPhrase, doseKind, doseLine, joinDoseParts, keepWidth, restLine } from "./dose_words.js";
import { readRest, readWeight, restBits, weightBits, writeBits } from "./packing.js";
import { isWide, readWide, wideBits } from "./wide_dose.js";

/** @typedef {import("./code.js").Dose} Dose */
/** @typedef {import("./speech.js").Speech} Speech */
/** @typedef {{week: number, change: import("./code.js").Change}} Stage  The week in which it begins, 0: when the one before is easy; what differs from that one. */
/** @typedef {{weeks: number, cue: string, stages: {week: number, dose: Dose}[][], doses: Dose[]}} Tail  `cue` is a mark or empty; stages by pick, after the first; the first doses, their names as marks. */

const [WEEK_BITS, COUNT_BITS, SETS_BITS, DAYS_BITS] = [4, 3, 4, 3];
/** Weeks that pass at least before a stage is called easy. */
const EASY_WEEKS = 1;

/**
 * The dose of each stage, the first one before them.
 * @param {Dose} first
 * @param {Stage[]} [stages]
 * @returns {Dose[]}
 */
export function stageDoses(first, stages = []) {
  const doses = [first];
  for (const { change } of stages) doses.push(keepWidth(doses[doses.length - 1], /** @type {Dose} */ ({ ...doses[doses.length - 1], ...change })));
  return doses;
}

/**
 * The dose of a week of the plan, counted from 1; what waits for a stage to be easy is not reached.
 * @param {Dose} first
 * @param {Stage[]} stages
 * @param {number} week
 * @returns {Dose}
 */
export function dosesIn(first, stages, week) {
  return stageDoses(first, stages.filter((stage) => stage.week && stage.week <= week)).at(-1) ?? first;
}

/**
 * What a stage may change of a dose: the sets, what is counted, the weight, days and rest; never the hold of each repetition.
 * @param {Dose} dose
 * @returns {string[]}
 */
export function stagedFields(dose) {
  return ["sets", doseKind(dose), "weight", "days", "rest"];
}

/**
 * What of a stage's dose differs from the one before; null where something is taken away, which no change can.
 * @param {Dose} before
 * @param {Dose} dose
 * @returns {import("./code.js").Change | null}
 */
export function stageChange(before, dose) {
  const [old, now] = /** @type {Record<string, number | undefined>[]} */ (/** @type {unknown} */ ([before, dose]));
  if (STAGED.some((name) => old[name] !== undefined && now[name] === undefined)) return null;
  return Object.fromEntries(STAGED.filter((name) => now[name] !== old[name]).map((name) => [name, Number(now[name])]));
}

/**
 * Whether an earlier version could not hold it all.
 * @param {Tail} tail
 * @returns {boolean}
 */
export function needsTail(tail) {
  const { weeks, cue, stages } = tail;
  return weeks > SHORT_WEEKS || cue !== "" || stages.some((each) => each.length > 0) || isWideTail(tail);
}

/**
 * Whether version 5 could not hold it all.
 * @param {Tail} tail
 * @returns {boolean}
 */
export function isWideTail({ stages, doses }) {
  return doses.some(isWide) || stages.some((each, at) => each.some(({ dose }) => dose.days !== doses[at].days || dose.rest !== doses[at].rest));
}

/**
 * @param {Tail} tail
 * @param {(mark: string) => number} readNumber
 * @returns {string}
 */
export function tailBits(tail, readNumber) {
  const { weeks, cue, stages, doses } = tail;
  const wide = isWideTail(tail);
  let bits = writeBits(weeks, WEEK_BITS) + (cue ? `1${writeBits(readNumber(cue), MARK_BITS)}` : "0");
  for (const each of stages) {
    bits += writeBits(each.length, COUNT_BITS);
    for (const { week, dose } of each) {
      const kind = doseKind(dose);
      bits += writeBits(week, WEEK_BITS) + writeBits(dose.sets, SETS_BITS) + writeBits(dose[kind] ?? 0, AMOUNT_BITS[kind]) + weightBits(dose.weight);
      if (wide) bits += writeBits(dose.days ?? 0, DAYS_BITS) + restBits(dose.rest);
    }
  }
  return bits + (wide ? doses.map((dose) => wideBits(dose, readNumber)).join("") : "");
}

/**
 * The tail at the reader's place, behind picks with these doses; nothing of it is known to be within bounds.
 * @param {import("./packing.js").BitReader} reader
 * @param {Dose[]} doses
 * @param {(value: number, digits: number) => string} writeNumber
 * @param {boolean} wide  of version 6
 * @returns {Tail}
 */
export function readTail(reader, doses, writeNumber, wide) {
  const weeks = reader.take(WEEK_BITS);
  const cue = reader.take(1) ? writeNumber(reader.take(MARK_BITS), NAME_DIGITS) : "";
  const stages = doses.map((first) => {
    let dose = first;
    return Array.from({ length: reader.take(COUNT_BITS) }, () => {
      const kind = doseKind(first);
      const week = reader.take(WEEK_BITS);
      const { weight: _, ...rest } = dose;
      dose = { ...rest, sets: reader.take(SETS_BITS), [kind]: reader.take(AMOUNT_BITS[kind]) };
      const weight = readWeight(reader);
      if (weight !== undefined) dose.weight = weight;
      if (wide) {
        const days = reader.take(DAYS_BITS);
        const { days: _days, ...others } = dose;
        dose = { ...others, ...(days ? { days } : {}), rest: readRest(reader) };
      }
      return { week, dose };
    });
  });
  return { weeks, cue, stages, doses: wide ? doses.map((dose) => readWide(reader, dose, writeNumber)) : doses };
}

/**
 * Why the stages of a pick are refused: out of order, beyond the plan's weeks, or a dose that may not be given.
 * @param {string} code
 * @param {Dose} first
 * @param {Stage[]} stages
 * @param {number} weeks
 * @param {(dose: Dose) => import("./code.js").Refusal | null} refuse
 * @returns {import("./code.js").Refusal | null}
 */
export function refuseStages(code, first, stages, weeks, refuse) {
  const doses = stageDoses(first, stages);
  let last = 1;
  for (const [at, { week, change }] of stages.entries()) {
    const late = week !== 0 && !(last < week && week <= weeks);
    const same = STAGED.every((name) => lookAt(doses[at], name) === lookAt(doses[at + 1], name));
    if (late || same || Object.keys(change).some((name) => !stagedFields(first).includes(name)) || stages.length > MOST_STAGES) return { kind: "out-of-bounds", exercise: code, field: "stages", value: week };
    // Nothing comes by week behind what waits until it is easy.
    last = week || weeks;
    const refused = refuse(doses[at + 1]);
    if (refused) return refused;
  }
  return null;
}

/**
 * @param {Dose} dose
 * @param {string} name
 * @returns {unknown}
 */
function lookAt(dose, name) {
  return /** @type {Record<string, unknown>} */ (/** @type {unknown} */ (dose))[name];
}

/**
 * By how many percent a week the work grows from each stage to the next.
 * @param {Dose} first
 * @param {Stage[]} stages
 * @returns {number[]}
 */
export function growths(first, stages) {
  const doses = stageDoses(first, stages);
  const work = (/** @type {Dose} */ dose) => dose.sets * (dose[doseKind(dose)] ?? 1) * (dose.days || 1);
  let week = 1;
  return stages.map((stage, at) => {
    const [before, after] = [doses[at], doses[at + 1]];
    const start = stage.week || week + EASY_WEEKS;
    const ratio = (work(after) / work(before)) * (before.weight && after.weight ? after.weight / before.weight : 1);
    const growth = ((ratio - 1) * 100) / Math.max(1, start - week);
    week = start;
    return growth;
  });
}

/**
 * The stages that a programme's rule gives for a dose: what it counts grows, and nothing past its range.
 * @param {Dose} first
 * @param {{week: number, add: Record<string, number>}[]} rules
 * @param {import("./code.js").DoseRange} range
 * @returns {Stage[]}
 */
export function applyRules(first, rules, range) {
  /** @type {Stage[]} */
  const stages = [];
  let dose = first;
  for (const { week, add } of rules) {
    const change = Object.fromEntries(Object.entries(add).filter(([name]) => stagedFields(dose).includes(name)).flatMap(([name, more]) => {
      const value = lookAt(dose, name);
      const span = Object.hasOwn(range, name) ? range[name] : undefined;
      return typeof value === "number" && span && value + more <= span[1] ? [[name, value + more]] : [];
    }));
    if (!Object.keys(change).length) continue;
    dose = keepWidth(dose, { ...dose, ...change });
    stages.push({ week, change });
  }
  return stages;
}

/**
 * A line for each stage: when it begins, and its dose, with days and rest where these change; none where there is only one.
 * @param {Dose} first
 * @param {Stage[]} stages
 * @param {number} sessions  after how many of them a stage is called easy, by the clinic's rule
 * @param {Speech} speech
 * @param {import("./dose_words.js").DoseNames} [names]
 * @returns {string[]}
 */
export function stageLines(first, stages, sessions, speech, names) {
  if (!stages.length) return [];
  const doses = stageDoses(first, stages);
  const days = (/** @type {Dose} */ dose) => (dose.days === undefined ? "" : daysPhrase(dose.days, speech));
  const rest = (/** @type {Dose} */ dose) => restLine(dose, speech);
  const more = [days, rest].filter((part) => new Set(doses.map(part)).size > 1);
  return doses.map((dose, at) => {
    const words = joinDoseParts([doseLine(dose, speech, names), ...more.map((part) => part(dose))], speech);
    const week = at ? stages[at - 1].week : 1;
    if (week) return speech.say("dose.stage_week", { n: speech.number(week), dose: words });
    return speech.count("dose.stage_easy", sessions, { dose: words });
  });
}
