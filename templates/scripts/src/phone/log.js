/**
 * The log of sessions: dates, exercise codes and numbers, nothing else.  Pure; store.js keeps it in this browser only.
 */

import { dayOf } from "../day.js";
import { hasTwoSides } from "../bundle/dose_words.js";

/**
 * @typedef {{code: string, sets: number, of: number, reps?: number, hold?: number, time?: number, distance?: number}} Done
 * Sets done (a half where one side is missing) of the sets prescribed; times in seconds.
 * @typedef {{date: string, done: Done[], effort: number | null, pain: number | null, after?: number}} Entry  One session, on a day as 2026-09-14; `after`:
 * pain on the day after, where that was asked and answered.
 * @typedef {{version: number, entries: Entry[]}} Log
 * @typedef {{state: "whole" | "damaged" | "newer", log: Log}} ReadLog
 */

export const LOG_VERSION = 1;
/** The version of a log in which pain on a day after was answered; else it is the same, and pages made before can read it. */
const AFTER_VERSION = 2;
export const AMOUNTS = /** @type {const} */ (["reps", "hold", "time", "distance"]);
export const HIGHEST_ANSWER = 10;

/** @returns {Log} */
export function emptyLog() {
  return { version: LOG_VERSION, entries: [] };
}

/**
 * A log from its text; anything that is not exactly a log is called damaged, never mended.
 * @param {string | null} text
 * @returns {ReadLog}
 */
export function readLog(text) {
  if (text === null || text === "") return { state: "whole", log: emptyLog() };
  /** @type {any} */
  let found;
  try {
    found = JSON.parse(text);
  } catch {
    return { state: "damaged", log: emptyLog() };
  }
  if (Number.isInteger(found?.version) && found.version > AFTER_VERSION) return { state: "newer", log: emptyLog() };
  if (![LOG_VERSION, AFTER_VERSION].includes(found?.version) || !Array.isArray(found.entries) || !found.entries.every(isEntry)) return { state: "damaged", log: emptyLog() };
  return { state: "whole", log: { version: found.version, entries: found.entries } };
}

/**
 * @param {any} value
 * @returns {boolean}
 */
function isEntry(value) {
  const keys = Object.keys(value ?? {}).sort().join();
  const known = keys === "date,done,effort,pain" || (keys === "after,date,done,effort,pain" && value.after !== null && isAnswer(value.after));
  return known && isDay(value.date) && isAnswer(value.effort) && isAnswer(value.pain) && Array.isArray(value.done) && value.done.every(isDone);
}

/**
 * @param {any} value
 * @returns {boolean}
 */
function isDone(value) {
  if (typeof value !== "object" || value === null || !/^[2-9A-HJ-NP-Z]{4}$/.test(value.code)) return false;
  return Object.entries(value).every(([name, amount]) => name === "code" || (["sets", "of", ...AMOUNTS].includes(name) && Number.isFinite(amount) && amount >= 0));
}

/**
 * @param {unknown} value
 * @returns {boolean}
 */
function isDay(value) {
  return typeof value === "string" && /^\d{4}-\d\d-\d\d$/.test(value) && dayOf(new Date(`${value}T12:00:00`)) === value;
}

/**
 * @param {unknown} value
 * @returns {boolean}
 */
function isAnswer(value) {
  return value === null || (Number.isInteger(value) && Number(value) >= 0 && Number(value) <= HIGHEST_ANSWER);
}

/**
 * Another day, some days later or earlier.
 * @param {string} day
 * @param {number} days
 * @returns {string}
 */
export function shiftDay(day, days) {
  const [year, month, date] = day.split("-").map(Number);
  return dayOf(new Date(year, month - 1, date + days, 12));
}

/**
 * What was done of a dose.
 * @param {string} code
 * @param {import("../bundle/code.js").Dose} dose
 * @param {number} bouts sets, each side for itself
 * @returns {Done}
 */
export function noteDone(code, dose, bouts) {
  /** @type {Done} */
  const done = { code, sets: bouts / (hasTwoSides(dose) ? 2 : 1), of: dose.sets };
  for (const name of AMOUNTS) if (dose[name] !== undefined) done[name] = dose[name];
  return done;
}

/**
 * @param {Log} log
 * @param {Entry} entry
 * @returns {Log}
 */
export function addEntry(log, entry) {
  return { ...log, entries: [...log.entries, entry].sort((one, other) => (one.date < other.date ? -1 : one.date > other.date ? 1 : 0)) };
}

/**
 * One time more of an exercise that is done by occasion: a day has one entry for all its times, which asks nothing.
 * @param {Log} log
 * @param {string} date
 * @param {Done} done  of one time
 * @returns {Log}
 */
export function addOccasion(log, date, done) {
  const at = log.entries.findIndex((entry) => entry.date === date && isOccasion(entry, done.code));
  if (at < 0) return addEntry(log, { date, done: [done], effort: null, pain: null });
  const [first] = log.entries[at].done;
  return { ...log, entries: log.entries.map((entry, place) => (place === at ? { ...entry, done: [{ ...first, sets: first.sets + done.sets }] } : entry)) };
}

/**
 * How many times an exercise was done by occasion on a day.
 * @param {Log} log
 * @param {string} date
 * @param {string} code
 * @returns {number}
 */
export function occasionsOn(log, date, code) {
  return log.entries.reduce((sum, entry) => (entry.date === date && isOccasion(entry, code) ? sum + entry.done[0].sets / Math.max(1, entry.done[0].of) : sum), 0);
}

/**
 * @param {Entry} entry
 * @param {string} code
 * @returns {boolean}
 */
function isOccasion({ done, effort, pain }, code) {
  return done.length === 1 && done[0].code === code && effort === null && pain === null;
}

/**
 * The sessions of a day with any of some exercises whose pain on the day after was not answered.
 * @param {Log} log
 * @param {string} date
 * @param {string[]} codes
 * @returns {Entry[]}
 */
export function unanswered(log, date, codes) {
  return log.entries.filter((entry) => isAsked(entry, date, codes) && entry.after === undefined);
}

/**
 * Whether the pain after a session is asked about: it was on that day, and one of some exercises was done in it.
 * @param {Entry} entry
 * @param {string} date
 * @param {string[]} codes
 */
function isAsked(entry, date, codes) {
  return entry.date === date && entry.done.some(({ code, sets }) => sets > 0 && codes.includes(code));
}

/**
 * The answer on the day after, for each session of the day before with any of some exercises; a later answer takes the place of an earlier one.
 * @param {Log} log
 * @param {string} date
 * @param {string[]} codes
 * @param {number} after
 * @returns {Log}
 */
export function answerAfter(log, date, codes, after) {
  return { version: AFTER_VERSION, entries: log.entries.map((entry) => (isAsked(entry, date, codes) ? { ...entry, after } : entry)) };
}

/**
 * The latest sessions with an exercise, the newest last.
 * @param {Log} log
 * @param {string} code
 * @param {number} most
 * @returns {{date: string, done: Done, effort: number | null, pain: number | null, after?: number, alone: boolean}[]}
 */
export function lastTimes(log, code, most) {
  const found = log.entries.flatMap(({ date, done, effort, pain, after }) => {
    const one = done.find((each) => each.code === code && each.sets > 0);
    return one ? [{ date, done: one, effort, pain, ...(after === undefined ? {} : { after }), alone: done.every((each) => each === one || !each.sets) }] : [];
  });
  return found.slice(-most);
}

/**
 * Each session with an exercise, as its criteria are weighed.
 * @param {Log} log
 * @param {string} code
 * @returns {import("../bundle/criteria.js").Time[]}
 */
export function timesOf(log, code) {
  return lastTimes(log, code, Infinity).map(({ date, done, effort, pain, after, alone }) => ({ day: date, sets: done.sets, amounts: done, effort, pain, after: after ?? null, alone }));
}

/**
 * Whether pain was above a bound in the latest session with an exercise that has an answer on pain, or on the day after it.
 * @param {Log} log
 * @param {string} code
 * @param {number} bound
 * @returns {boolean}
 */
export function hurtLastTime(log, code, bound) {
  const answers = lastTimes(log, code, log.entries.length).flatMap(({ pain, after }) => (pain === null && after === undefined ? [] : [Math.max(pain ?? 0, after ?? 0)]));
  return answers.length > 0 && answers[answers.length - 1] > bound;
}

/**
 * On how many of the last days there was a session, today among them.
 * @param {Log} log
 * @param {string} today
 * @param {number} days
 * @returns {number}
 */
export function countDays(log, today, days) {
  const first = shiftDay(today, 1 - days);
  return new Set(log.entries.map((entry) => entry.date).filter((date) => date >= first && date <= today)).size;
}

/**
 * The month of a day in weeks of seven days; empty where a day belongs to another month.
 * @param {string} day
 * @param {number} firstDay first day of the week, 1 for Monday to 7 for Sunday
 * @returns {string[][]}
 */
export function monthOf(day, firstDay) {
  const [year, month] = day.split("-").map(Number);
  const before = (new Date(year, month - 1, 1, 12).getDay() - (firstDay % 7) + 7) % 7;
  const days = new Date(year, month, 0, 12).getDate();
  const cells = [...Array.from({ length: before }, () => ""), ...Array.from({ length: days }, (_, at) => dayOf(new Date(year, month - 1, at + 1, 12)))];
  while (cells.length % 7) cells.push("");
  return Array.from({ length: cells.length / 7 }, (_, week) => cells.slice(week * 7, week * 7 + 7));
}
