/**
 * What this phone keeps: the code of the list, the log, two switches.  Storage that is refused or full is reported,
 * never thrown; what cannot be read is set aside, never overwritten.
 */

import { today } from "../day.js";
import { ownName, takeOverNames } from "../place.js";
import { emptyLog, readLog } from "./log.js";

/** @typedef {import("./log.js").Log} Log */
/** @typedef {"kept" | "full" | "off" | "newer"} Outcome */

const FORMER = "handouts.my.";
const OWN = ownName("my.");
const LIST = `${OWN}list`;
const LIST_DAY = `${OWN}list-day`;
const LOG = `${OWN}log`;
const ASIDE = `${OWN}log-aside-`;
const CUES_KEY = `${OWN}cues`;
const RUN = `${OWN}run`;
const REACHED = `${OWN}reached`;

/**
 * @param {string} key
 * @returns {string | null}
 */
function readKey(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

/**
 * @param {string} key
 * @param {string} text
 * @returns {Outcome}
 */
function writeKey(key, text) {
  try {
    localStorage.setItem(key, text);
    return "kept";
  } catch (fault) {
    return fault instanceof DOMException && fault.name === "QuotaExceededError" ? "full" : "off";
  }
}

try {
  takeOverNames(localStorage, FORMER, OWN);
} catch {
  // A browser that keeps nothing has nothing to take over.
}

/** @returns {string} */
export function readKeptList() {
  return readKey(LIST) ?? "";
}

/** The day on which the list was kept; empty where an older version kept it. @returns {string} */
export function readListDay() {
  return readKey(LIST_DAY) ?? "";
}

/**
 * @param {string} code
 * @returns {Outcome}
 */
export function keepList(code) {
  if (readKeptList() === code) return "kept";
  const outcome = writeKey(LIST, code);
  if (outcome === "kept") writeKey(LIST_DAY, today());
  return outcome;
}

/**
 * The exercises of a plan that went on to a stage without a week, once for each stage, and on which day.
 * @param {string} plan  its code
 * @returns {{code: string, day: string}[]}
 */
export function readReached(plan) {
  const [kept, ...all] = (readKey(REACHED) ?? "").split(" ");
  return kept === plan ? all.map((one) => ({ code: one.slice(0, 4), day: one.slice(5) })) : [];
}

/**
 * @param {string} plan
 * @param {{code: string, day: string}[]} all
 * @returns {Outcome}
 */
export function keepReached(plan, all) {
  return writeKey(REACHED, [plan, ...all.map(({ code, day }) => `${code}@${day}`)].join(" "));
}

/** Whether there is a log at all, of any kind. @returns {boolean} */
export function keepsLog() {
  return readKey(LOG) !== null;
}

/** The log as it is kept; a damaged one is set aside first. @returns {{log: Log, state: "whole" | "aside" | "newer"}} */
export function openLog() {
  const text = readKey(LOG);
  const { state, log } = readLog(text);
  if (state !== "damaged") return { log, state };
  let number = 1;
  while (readKey(ASIDE + number) !== null) number += 1;
  // Only once the copy is kept may the damaged log make room.
  if (writeKey(ASIDE + number, text ?? "") === "kept") writeKey(LOG, JSON.stringify(emptyLog()));
  return { log: emptyLog(), state: "aside" };
}

/**
 * Changes the log as it is now, so that two windows lose nothing of each other.
 * @param {(log: Log) => Log} change
 * @returns {Outcome}
 */
export function changeLog(change) {
  const { log, state } = openLog();
  return state === "newer" ? "newer" : writeKey(LOG, JSON.stringify(change(log)));
}

/** @returns {{sound: boolean, vibration: boolean}} */
export function readCues() {
  const text = readKey(CUES_KEY);
  return { sound: text === null || text.includes("s"), vibration: text === null || text.includes("v") };
}

/** @param {{sound: boolean, vibration: boolean}} cues */
export function keepCues({ sound, vibration }) {
  writeKey(CUES_KEY, (sound ? "s" : "") + (vibration ? "v" : ""));
}

/** Whether this browser keeps anything. @returns {boolean} */
export function canKeep() {
  const key = `${OWN}try`;
  if (writeKey(key, "1") !== "kept") return false;
  localStorage.removeItem(key);
  return true;
}

/** Whether storage is there but has no room. @returns {boolean} */
export function isFull() {
  const full = writeKey(`${OWN}try`, "1") === "full";
  if (!full) eraseKeys((key) => key === `${OWN}try`);
  return full;
}

/**
 * @param {(key: string) => boolean} wanted
 * @returns {boolean} whether none is left
 */
function eraseKeys(wanted) {
  const ours = () => Array.from({ length: localStorage.length }, (_, at) => localStorage.key(at) ?? "").filter(wanted);
  try {
    for (const key of ours()) localStorage.removeItem(key);
    return ours().length === 0;
  } catch {
    return true;
  }
}

/**
 * What the session that is kept begins with, so that it never goes on with another list.
 * @param {import("./book.js").MyList} list
 * @returns {string}
 */
export function runKey(list) {
  return `${list.picks.map(({ code }) => code).join("")} `;
}

/** A session under way outlives a page that the phone has put away, as long as its tab is there. @returns {string} */
export function readRunText() {
  try {
    return sessionStorage.getItem(RUN) ?? "";
  } catch {
    return "";
  }
}

/** @param {string} text nothing where no session is under way */
export function keepRunText(text) {
  try {
    if (text) sessionStorage.setItem(RUN, text);
    else sessionStorage.removeItem(RUN);
  } catch {
    // A session goes on without it.
  }
}

/** Erases all that this page keeps in the browser's storage. @returns {boolean} whether nothing is left */
export function eraseAll() {
  keepRunText("");
  return eraseKeys((key) => key.startsWith(OWN));
}
