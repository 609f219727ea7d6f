/** A plan over weeks on the patient's phone: which stage of each exercise it is, from the first session in the log, and in words. */

import { decodeBundle, readFormer } from "../bundle/former_code.js";
import { isRefusal } from "../bundle/code.js";
import { make, makeButton } from "../bundle/dom.js";
import { aboutMinutes, doseNames, joinDoseParts } from "../bundle/dose_words.js";
import { sayPartAt, sayParts } from "../bundle/parts.js";
import { stageDoses, stageLines } from "../bundle/stages.js";
import { saySubstitutes, thingsOf } from "../bundle/substitutes.js";
import { partedSeconds, sessionSeconds } from "../bundle/sums.js";
import { part } from "../page.js";
import { today } from "../day.js";
import { rowsOf } from "./book.js";
import { AMOUNTS, hurtLastTime, lastTimes } from "./log.js";
import { daysBetween } from "./shown_log.js";
import { keepReached, readKeptList, readListDay, readReached } from "./store.js";

/** @typedef {import("./log.js").Log} Log */
/** @typedef {import("../bundle/code.js").Opened} Opened */
/** @typedef {{after: number, book: Record<string, unknown>}} PlanWords  Sessions after which a stage is easy; what goes into the book. */

const DAYS_A_WEEK = 7;

/**
 * The day of the first session with one of a plan's exercises since the list was kept; empty where there is none yet.
 * @param {Opened} opened
 * @param {Log} log
 * @returns {string}
 */
function firstSession({ bundle }, log) {
  const codes = bundle.picks.map(({ code }) => code);
  const kept = readListDay();
  return log.entries.find(({ date, done }) => date >= kept && done.some(({ code }) => codes.includes(code)))?.date ?? "";
}

/**
 * The stage of each exercise on a day, 0 for its first dose.  Those by week come by themselves, counted from the first session; the
 * others from the day on which the reader said so.
 * @param {Opened} opened
 * @param {string} text  the code as it is kept; empty where another list is, whose days say nothing of this one
 * @param {Log} log
 * @param {string} day
 * @returns {number[]}
 */
function stagesOn(opened, text, log, day) {
  const first = text ? firstSession(opened, log) : "";
  const week = first ? 1 + Math.floor(Math.max(0, daysBetween(first, day)) / DAYS_A_WEEK) : 1;
  const reached = text ? readReached(text) : [];
  return opened.bundle.picks.map(({ code, stages = [] }) => {
    const timed = stages.filter((stage) => stage.week).length;
    const come = stages.filter((stage) => stage.week && stage.week <= week).length;
    return come < timed ? come : Math.min(stages.length, timed + reached.filter((one) => one.code === code && one.day <= day).length);
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
    const now = stagesOn(opened, kept, log(), today());
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
 * What the list says of its session where that has parts, or where something is taken in place of things: minutes, parts, what to fetch.
 * @param {import("./book.js").MyList} list
 * @param {import("./book.js").MyBook} book
 * @param {import("../bundle/speech.js").Speech} speech
 */
export function showSession(list, book, speech) {
  const { picks, roundRest = 0 } = list;
  const rows = rowsOf(list, book);
  const [straight, parted] = [sessionSeconds(rows, book.policy), partedSeconds(rows, book.policy, roundRest)].map((seconds) => aboutMinutes(seconds, speech));
  const facts = Array.from(part("summary", HTMLUListElement).children);
  const told = facts.find(({ textContent }) => textContent === straight);
  if (told) told.textContent = parted;
  const lines = sayParts(picks.map((pick) => ({ ...pick, title: book.exercises[pick.code].title })), roundRest, speech);
  part("summary", HTMLUListElement).append(...lines.map((line) => make("li", { class: "whole" }, [line])));
  const links = (list.given ?? []).map((code) => /** @type {[string, string]} */ (book.handed?.[code])).map(([title, href]) => make("li", {}, [make("a", { href }, [title])]));
  part("given", HTMLElement).replaceChildren(...(links.length ? [make("h2", {}, [speech.say("phone.given")]), make("ul", { class: "points" }, links)] : []));
  if (!picks.some(({ substitutes }) => substitutes)) return;
  const things = [...new Set(picks.flatMap((pick) => thingsOf(book.exercises[pick.code].equipment, pick, book.substitutes ?? [])))].map((slug) => book.terms.equipment[slug]);
  part("fetch", HTMLElement).textContent = speech.say("site.fetch_first", { things: joinDoseParts(things, speech) });
}

/**
 * Says at each exercise its part and what is taken in place of things, its stage and what comes next, and what the session hangs on.
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
  const kept = text === readKeptList() ? text : "";
  const now = stagesOn(opened, kept, log, today());
  const rows = Array.from(part("rows", HTMLOListElement).children);
  opened.bundle.picks.forEach((pick, at) => {
    const { code, stages = [] } = pick;
    const dose = opened.doses[at];
    const said = [...sayPartAt(pick, speech), ...saySubstitutes(pick, dose, book.substitutes ?? [], speech)].map((line) => make("p", { class: "row-facts" }, [line]));
    rows[at].querySelector(".row-text")?.append(...said);
    const lines = stageLines(dose, stages, words.after, speech, doseNames(dose, book.terms));
    if (!lines.length) return;
    const [here, next] = [lines[now[at]], lines[now[at] + 1]];
    const place = rows[at].querySelector(".row-text");
    place?.append(make("p", { class: "row-facts" }, [speech.say("phone.stage_now", { stage: here })]));
    // Whatever the week says: what hurt last time goes by the clinic's rule on pain.
    if (book.clinic.bounds.length && hurtLastTime(log, code, book.clinic.bounds[0])) place?.append(make("p", { class: "note" }, [book.clinic.pain]));
    if (!next) return;
    place?.append(make("p", { class: "row-facts" }, [speech.say("phone.stage_next", { stage: next })]));
    if (stages[now[at]].week) return;
    const inStage = (/** @type {string} */ day) => stagesOn(opened, kept, log, day)[at] === now[at];
    const found = wasEasy(code, stageDoses(dose, stages)[now[at]], book, words.after, log, inStage);
    place?.append(make("p", { class: "note" }, [speech.say(found ? "phone.stage_found" : "phone.stage_not_found")]));
    if (found && kept) {
      place?.append(makeButton(speech.say("phone.stage_take"), () => {
        keepReached(text, [...readReached(text), { code, day: today() }]);
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
 * @param {(day: string) => boolean} inStage  whether a day belongs to the present stage, which may differ from another in its weight alone
 * @returns {boolean}
 */
function wasEasy(code, dose, book, after, log, inStage) {
  const [fine] = book.clinic.bounds;
  const most = dose.effort?.[1] ?? null;
  const latest = lastTimes(log, code, after);
  return fine !== undefined && latest.length === after && latest.every(({ date, done, effort, pain, after }) =>
    inStage(date) && done.sets >= dose.sets && AMOUNTS.every((name) => done[name] === dose[name]) && pain !== null && Math.max(pain, after ?? 0) <= fine && (most === null || (effort !== null && effort <= most)));
}

/**
 * What the log of a plan is told by: the doses of the stages of each exercise, and which one a day belongs to.
 * @param {string} text
 * @param {import("./book.js").MyBook} book
 * @param {Log} log
 * @returns {import("./shown_log.js").PlanPick[]}
 */
export function picksOfPlan(text, book, log) {
  const opened = decodeBundle(text, book);
  if (isRefusal(opened)) return [];
  const kept = text === readKeptList() ? text : "";
  return opened.bundle.picks.map(({ code, stages }, at) => ({ code, doses: stageDoses(opened.doses[at], stages), stageOn: (day) => stagesOn(opened, kept, log, day)[at] }));
}
