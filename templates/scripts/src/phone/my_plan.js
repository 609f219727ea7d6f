/** A plan over weeks on the patient's phone: which stage of each exercise it is, from the first session in the log, and in words. */

import { decodeBundle, readFormer } from "../bundle/former_code.js";
import { isRefusal } from "../bundle/code.js";
import { make, makeButton } from "../bundle/dom.js";
import { stageDoses, stageLines } from "../bundle/stages.js";
import { part } from "../page.js";
import { today } from "../day.js";
import { AMOUNTS, hurtLastTime, lastTimes } from "./log.js";
import { daysBetween } from "./shown_log.js";
import { keepReached, readKeptList, readListDay, readReached } from "./store.js";

/** @typedef {import("./log.js").Log} Log */
/** @typedef {import("../bundle/code.js").Opened} Opened */
/** @typedef {{cues: Record<string, string>, after: number}} PlanWords  What the session can hang on, by mark; sessions after which a stage is easy. */

const DAYS_A_WEEK = 7;

/**
 * The week of the plan, from 1: counted from the first session with one of its exercises since the list was kept.
 * @param {Opened} opened
 * @param {Log} log
 * @returns {number}
 */
function weekOf({ bundle }, log) {
  const codes = bundle.picks.map(({ code }) => code);
  const kept = readListDay();
  const first = log.entries.find(({ date, done }) => date >= kept && done.some(({ code }) => codes.includes(code)));
  return first ? 1 + Math.floor(Math.max(0, daysBetween(first.date, today())) / DAYS_A_WEEK) : 1;
}

/**
 * The stage of each exercise, 0 for its first dose.  Those by week come by themselves; the others when the reader says so.
 * @param {Opened} opened
 * @param {string} text  the code
 * @param {Log} log
 * @returns {number[]}
 */
function stagesNow(opened, text, log) {
  const isKept = text === readKeptList();
  const week = isKept ? weekOf(opened, log) : 1;
  const reached = isKept ? readReached(text) : [];
  return opened.bundle.picks.map(({ code, stages = [] }) => {
    const timed = stages.filter((stage) => stage.week).length;
    const come = stages.filter((stage) => stage.week && stage.week <= week).length;
    return come < timed ? come : Math.min(stages.length, timed + reached.filter((one) => one === code).length);
  });
}

/**
 * A plan over weeks, read with the doses of today; any other code as it is.
 * @param {() => Log} log
 * @returns {import("../bundle/code.js").ReadFormer}
 */
export function readToday(log) {
  return (body, version, catalogue) => {
    const opened = readFormer(body, version, catalogue);
    if (isRefusal(opened)) return opened;
    const kept = decodesTo(readKeptList(), body) ? readKeptList() : "";
    const now = stagesNow(opened, kept, log());
    return { ...opened, doses: opened.bundle.picks.map(({ stages }, at) => stageDoses(opened.doses[at], stages)[now[at]]) };
  };
}

/**
 * Whether a kept code has this body.
 * @param {string} text
 * @param {string} body
 * @returns {boolean}
 */
function decodesTo(text, body) {
  return text !== "" && (text.toUpperCase().replace(/[^2-9A-HJ-NP-Z]/g, "")).startsWith(body);
}

/**
 * Says at each exercise its stage and what comes next, and what the session hangs on.
 * @param {string} text  the code
 * @param {import("./book.js").MyBook} book
 * @param {import("../bundle/speech.js").Speech} speech
 * @param {PlanWords} words
 * @param {Log} log
 * @param {() => void} again  shows the list anew
 */
export function showPlan(text, book, speech, words, log, again) {
  const opened = decodeBundle(text, book);
  if (isRefusal(opened)) return;
  const cue = book.cues[opened.bundle.cue ?? ""];
  if (cue) part("summary", HTMLUListElement).append(make("li", {}, [speech.say("dose.session_cue", { cue })]));
  const now = stagesNow(opened, text, log);
  const rows = Array.from(part("rows", HTMLOListElement).children);
  opened.bundle.picks.forEach(({ code, stages = [] }, at) => {
    const dose = opened.doses[at];
    const lines = stageLines(dose, stages, words.after, speech, dose.band ? (book.terms.bands[dose.band] ?? "") : "");
    if (!lines.length) return;
    const [here, next] = [lines[now[at]], lines[now[at] + 1]];
    const place = rows[at].querySelector(".row-text");
    place?.append(make("p", { class: "row-facts" }, [speech.say("phone.stage_now", { stage: here })]));
    // Whatever the week says: what hurt last time goes by the clinic's rule on pain.
    if (book.clinic.bounds.length && hurtLastTime(log, code, book.clinic.bounds[0])) place?.append(make("p", { class: "note" }, [book.clinic.pain]));
    if (!next) return;
    place?.append(make("p", { class: "row-facts" }, [speech.say("phone.stage_next", { stage: next })]));
    if (stages[now[at]].week) return;
    const found = wasEasy(code, stageDoses(dose, stages)[now[at]], book, words.after, log);
    place?.append(make("p", { class: "note" }, [speech.say(found ? "phone.stage_found" : "phone.stage_not_found")]));
    const isKept = text === readKeptList();
    if (found && isKept) {
      place?.append(makeButton(speech.say("phone.stage_take"), () => {
        keepReached(text, [...readReached(text), code]);
        again();
      }, { class: "outline", "aria-label": speech.say("phone.stage_take_of", { exercise: book.exercises[code].title }) }));
    }
  });
}

/**
 * Whether the latest sessions with a dose had all sets, pain that is fine, and effort no higher than it asks for.
 * @param {string} code
 * @param {import("../bundle/code.js").Dose} dose
 * @param {import("./book.js").MyBook} book
 * @param {number} after
 * @param {Log} log
 * @returns {boolean}
 */
function wasEasy(code, dose, book, after, log) {
  const [fine] = book.clinic.bounds;
  const most = dose.effort?.[1] ?? null;
  const latest = lastTimes(log, code, after);
  return fine !== undefined && latest.length === after && latest.every(({ done, effort, pain }) =>
    done.sets >= dose.sets && AMOUNTS.every((name) => done[name] === dose[name]) && pain !== null && pain <= fine && (most === null || (effort !== null && effort <= most)));
}

/**
 * The doses of all stages of each exercise of a plan, for its log.
 * @param {string} text
 * @param {import("./book.js").MyBook} book
 * @returns {import("../bundle/code.js").Dose[][]}
 */
export function dosesOfPlan(text, book) {
  const opened = decodeBundle(text, book);
  return isRefusal(opened) ? [] : opened.bundle.picks.map(({ stages }, at) => stageDoses(opened.doses[at], stages));
}
