/**
 * A patient's log as one word, shown at the clinic: the plan, and for each session its day counted from the plan's first day, the
 * sets done, effort and pain.  The specification is handouts/bundle/LOG.md.  Pure and total: reading never throws, and never
 * gives a part of a log.  It can hold no name and no date.
 */

import { check_digits as CHECK_DIGITS, digit_bits as DIGIT_BITS, digits as DIGITS, log_sign as LOG_SIGN, log_version as LOG_VERSION, staged_log_version as STAGED_VERSION, after_log_version as AFTER_VERSION, most_sessions as MOST_SESSIONS } from "../../../../handouts/bundle/code.json";
import { cleanCode, crc32, isRefusal, readNumber, writeNumber } from "./code.js";
import { decodeBundle } from "./former_code.js";
import { BitReader, writeBits } from "./packing.js";
import { stageDoses } from "./stages.js";

/**
 * @typedef {{day: number, effort: number | null, pain: number | null, sets: number[], stages?: number[], after?: number | null}} Session
 * `day` counts from the plan's first day, which is 0; `sets` holds by exercise of the plan how many were done, in halves;
 * `stages` in which stage of its dose, where any exercise has more than one; `after`: pain on the day after.
 * @typedef {{fromFirst: boolean, today: number, all: number, sessions: Session[]}} ShownLog
 * `fromFirst`: the first day of the plan is not known, and days count from the first session; `today`: the day on which it is
 * shown; `all`: how many sessions there are, of which the latest are in `sessions`, the oldest first.
 * @typedef {{bundle: import("./code.js").Bundle, doses: import("./code.js").Dose[], former: string[]} & ShownLog} Visit
 */

const LENGTH_BITS = 9;
const DAY_BITS = 10;
const SHORT_GAP_BITS = 2;
const COUNT_BITS = 7;
const ALL_BITS = 10;
const ANSWER_BITS = 4;
const HALVES_BITS = 5;
const STAGE_BITS = 3;
const HIGHEST_ANSWER = 10;
/** Most of days and sessions that can be told: what is later, or more, is told as this. */
export const MOST_DAYS = 2 ** DAY_BITS - 1;
const MOST_TOLD = 2 ** ALL_BITS - 1;
const MOST_HALVES = 2 ** HALVES_BITS - 1;

/**
 * Whether a text is the code of a log, whole or not.
 * @param {string} text
 * @returns {boolean}
 */
export function isLogCode(text) {
  return cleanCode(text)?.startsWith(LOG_SIGN) ?? false;
}

/**
 * The sets of each exercise of a plan, by its stages.
 * @param {import("./code.js").Dose[][]} doses
 * @returns {number[][]}
 */
export function setsOfStages(doses) {
  return doses.map((stages) => stages.map(({ sets }) => sets));
}

/**
 * The code of a log.
 * @param {string} plan  the bundle code
 * @param {number[][]} sets  the sets of each exercise of the plan, by its stages
 * @param {ShownLog} log
 * @returns {string}
 */
export function writeLog(plan, sets, { fromFirst, today, all, sessions }) {
  const kept = sessions.slice(-MOST_SESSIONS);
  let bits = writeBits(plan.length, LENGTH_BITS) + Array.from(plan, (digit) => writeBits(readNumber(digit), DIGIT_BITS)).join("");
  bits += (fromFirst ? "1" : "0") + writeBits(Math.min(today, MOST_DAYS), DAY_BITS) + writeBits(kept.length, COUNT_BITS) + writeBits(Math.min(all, MOST_TOLD), ALL_BITS);
  const version = versionOf(sets, kept);
  let last = 0;
  for (const session of kept) {
    const day = Math.min(session.day, MOST_DAYS);
    bits += gapBits(day - last) + answerBits(session.effort) + answerBits(session.pain) + (version === AFTER_VERSION ? answerBits(session.after ?? null) : "") + session.sets.map((done, at) => setBits(done, sets[at], session.stages?.[at] ?? 0)).join("");
    last = day;
  }
  let text = LOG_SIGN + writeNumber(version, 1);
  for (let at = 0; at < bits.length; at += DIGIT_BITS) text += DIGITS[parseInt(bits.slice(at, at + DIGIT_BITS).padEnd(DIGIT_BITS, "0"), 2)];
  return text + writeNumber(crc32(text), CHECK_DIGITS);
}

/**
 * The later versions are written only where pain on a day after was answered, or an exercise has stages.
 * @param {number[][]} sets
 * @param {Session[]} sessions
 * @returns {number}
 */
function versionOf(sets, sessions) {
  if (sessions.some(({ after }) => typeof after === "number")) return AFTER_VERSION;
  return sets.some((stages) => stages.length > 1) ? STAGED_VERSION : LOG_VERSION;
}

/**
 * @param {number} days
 * @returns {string}
 */
function gapBits(days) {
  return days < 2 ** SHORT_GAP_BITS ? `0${writeBits(days, SHORT_GAP_BITS)}` : `1${writeBits(days, DAY_BITS)}`;
}

/**
 * @param {number | null} answer
 * @returns {string}
 */
function answerBits(answer) {
  return answer === null ? "0" : `1${writeBits(answer, ANSWER_BITS)}`;
}

/**
 * @param {number} done
 * @param {number[]} asked  by stage
 * @param {number} stage
 * @returns {string}
 */
function setBits(done, asked, stage) {
  const which = asked.length > 1 ? writeBits(stage, STAGE_BITS) : "";
  if (done >= asked[stage]) return `1${which}`;
  return done <= 0 ? "00" : `01${writeBits(Math.min(Math.round(done * 2), MOST_HALVES), HALVES_BITS)}${which}`;
}

/**
 * The log of a code with its plan, or why it is refused; the plan is refused as any bundle code is.
 * @param {string} text
 * @param {import("./code.js").Catalogue} catalogue
 * @returns {Visit | import("./code.js").Refusal}
 */
export function readLogCode(text, catalogue) {
  const digits = cleanCode(text);
  const body = digits?.slice(0, -CHECK_DIGITS) ?? "";
  if (!digits?.startsWith(LOG_SIGN) || body.length < 2 || readNumber(digits.slice(-CHECK_DIGITS)) !== crc32(body)) return { kind: "damaged" };
  const version = readNumber(body[1]);
  if (version < LOG_VERSION || version > AFTER_VERSION) return { kind: version > AFTER_VERSION ? "newer" : "damaged", field: "version", value: version };
  const reader = new BitReader(Array.from(body.slice(2), (digit) => writeBits(readNumber(digit), DIGIT_BITS)).join(""));
  const plan = Array.from({ length: reader.take(LENGTH_BITS) }, () => DIGITS[reader.take(DIGIT_BITS)]).join("");
  if (reader.isOver) return { kind: "damaged" };
  const opened = decodeBundle(plan, catalogue);
  if (isRefusal(opened)) return opened;
  const sets = setsOfStages(opened.doses.map((dose, at) => stageDoses(dose, opened.bundle.picks[at].stages)));
  const log = readSessions(reader, sets, version === AFTER_VERSION);
  // One log has one code: what is written otherwise than a writer writes is damage.
  if (reader.isOver || !isSound(log) || writeLog(plan, sets, log) !== digits) return { kind: "damaged" };
  return { ...opened, ...log };
}

/**
 * @param {BitReader} reader
 * @param {number[][]} sets
 * @param {boolean} withAfter  whether pain on the day after stands in it
 * @returns {ShownLog}
 */
function readSessions(reader, sets, withAfter) {
  const fromFirst = reader.take(1) === 1;
  const today = reader.take(DAY_BITS);
  const count = reader.take(COUNT_BITS);
  const all = reader.take(ALL_BITS);
  const answer = () => (reader.take(1) ? reader.take(ANSWER_BITS) : null);
  let day = 0;
  const sessions = Array.from({ length: count }, () => {
    day += reader.take(1) ? reader.take(DAY_BITS) : reader.take(SHORT_GAP_BITS);
    const [effort, pain, after] = [answer(), answer(), withAfter ? answer() : null];
    const stages = sets.map(() => 0);
    const done = sets.map((asked, at) => {
      const isWhole = reader.take(1) === 1;
      const some = isWhole || !reader.take(1) ? 0 : reader.take(HALVES_BITS) / 2;
      if ((isWhole || some) && asked.length > 1) stages[at] = reader.take(STAGE_BITS);
      return isWhole ? (asked[stages[at]] ?? 0) : some;
    });
    return { day, effort, pain, sets: done, ...(sets.some((one) => one.length > 1) ? { stages } : {}), ...(after === null ? {} : { after }) };
  });
  return { fromFirst, today, all, sessions };
}

/**
 * Whether a log says nothing that cannot be: an answer above the scale, a session after today, more sessions than there are, or one
 * in which nothing was done.
 * @param {ShownLog} log
 * @returns {boolean}
 */
function isSound({ today, all, sessions }) {
  const fits = (/** @type {number | null} */ answer) => answer === null || answer <= HIGHEST_ANSWER;
  const told = sessions.every(({ day, effort, pain, after, sets }) => day <= today && fits(effort) && fits(pain) && fits(after ?? null) && sets.some((done) => done > 0));
  return told && sessions.length <= all && sessions.length <= MOST_SESSIONS && (sessions.length === all || sessions.length === MOST_SESSIONS);
}
