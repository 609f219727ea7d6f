/**
 * What a log says that a patient shows at the clinic: planned and done, effort and pain by exercise, and what the clinic's own
 * rule proposes within the exercise's range.  Gives words and values; keeps nothing.
 */

import { namesOf, pickedEntry, wholeDose } from "./book.js";
import { boundsOf, lookUp, valueOf } from "./code.js";
import { doseKind, doseLine, effortLine, isByOccasion, joinDoseParts } from "./dose_words.js";
import { movesOf } from "./next_visit.js";
import { sayCriteria } from "./criteria.js";
import { roundEven } from "./round.js";
import { stageDoses } from "./stages.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./code.js").Pick} Pick */
/** @typedef {import("./log_code.js").Visit} Visit */
/** @typedef {import("./speech.js").Speech} Speech */
/** @typedef {{done: number, whole: number, planned: number | null, effort: number[], pain: number[], after: number[], latest: import("./log_code.js").Session[]}} Done
 * How often an exercise was done, and with all sets; `planned` is null where the dose names no days; answers of those sessions in
 * their order, `after`: on the day after; `latest` are these sessions. */
/** @typedef {{code: string, kind: "more" | "on" | "back", field?: string, value?: number, target?: string}} Proposal
 * More of the exercise; on to a harder one, or back to an easier one, where the library has any. */

const DAYS_A_WEEK = 7;

/**
 * What was done of one exercise.
 * @param {Visit} visit
 * @param {number} at  place of the exercise in the plan
 * @param {Book} book
 * @returns {Done}
 */
export function doneOf(visit, at, book) {
  const dose = wholeDose(visit.bundle.picks[at], book);
  const doses = stageDoses(dose, visit.bundle.picks[at].stages);
  const latest = visit.sessions.filter(({ sets }) => sets[at] > 0);
  const days = Math.min(visit.today + 1, visit.bundle.weeks * DAYS_A_WEEK);
  const answers = (/** @type {"effort" | "pain" | "after"} */ name) => latest.flatMap((session) => session[name] ?? []);
  return {
    done: latest.length,
    whole: latest.filter(({ sets, stages }) => sets[at] >= doses[stages?.[at] ?? 0].sets).length,
    planned: dose.days === undefined || isByOccasion(dose) ? null : roundEven((dose.days * dose.times * days) / DAYS_A_WEEK),
    effort: answers("effort"),
    pain: answers("pain"),
    after: answers("after"),
    latest,
  };
}

/**
 * The sessions with one exercise, as its criteria are weighed.
 * @param {Visit} visit
 * @param {number} at
 * @param {Book} book
 * @returns {import("./criteria.js").Time[]}
 */
export function timesOf(visit, at, book) {
  const doses = stageDoses(wholeDose(visit.bundle.picks[at], book), visit.bundle.picks[at].stages);
  return doneOf(visit, at, book).latest.map(({ day, sets, effort, pain, after, stages }) => ({
    day, sets: sets[at], amounts: doses[stages?.[at] ?? 0], effort, pain, after: after ?? null, alone: sets.every((done, other) => other === at || !done),
  }));
}

/**
 * What is proposed for one exercise; null where the numbers say no more than to go on.
 * @param {Visit} visit
 * @param {number} at
 * @param {Book} book
 * @returns {Proposal | null}
 */
export function propose(visit, at, book) {
  const { bounds, next } = book.clinic;
  const pick = visit.bundle.picks[at];
  const { latest } = doneOf(visit, at, book);
  const [fine, less] = bounds;
  const last = latest.at(-1);
  if (!last || less === undefined) return null;
  const moves = movesOf(pick.code, book, visit.bundle.picks.map(({ code }) => code));
  if (Math.max(last.pain ?? 0, last.after ?? 0) > less) return { code: pick.code, kind: "back", ...(moves.back[0] ? { target: moves.back[0][0] } : {}) };
  const doses = stageDoses(wholeDose(pick, book), pick.stages);
  const stage = last.stages?.[at] ?? 0;
  // Where the plan itself goes on, nothing more is proposed.
  if (stage < doses.length - 1) return null;
  const dose = doses[stage];
  const most = dose.effort?.[1];
  const isReady = (/** @type {import("./log_code.js").Session} */ { sets, effort, pain, after, stages }) =>
    (stages?.[at] ?? 0) === stage && sets[at] >= dose.sets && pain !== null && Math.max(pain, after ?? 0) <= fine && (most === undefined || (effort !== null && effort <= most));
  if (!next || latest.length < next.after || !latest.slice(-next.after).every(isReady)) return null;
  const entry = pickedEntry(pick, book);
  const ways = [doseKind(dose), "sets"].flatMap((field) => {
    const [step, bounded] = [lookUp(next.steps, field), boundsOf(field, entry.dose, entry.range)];
    return step && bounded ? [{ field, value: Number(valueOf(dose, field)) + step, end: bounded[1] }] : [];
  });
  const more = ways.find(({ value, end }) => value <= end);
  // A plan that has come to its end is for the clinician to carry on.
  if (more && pick.stages?.length) return null;
  if (more) return { code: pick.code, kind: "more", field: more.field, value: more.value };
  // Where the rule has no step for what may be moved, nothing is used up.
  if (!ways.length) return null;
  return { code: pick.code, kind: "on", ...(moves.on[0] ? { target: moves.on[0][0] } : {}) };
}

/**
 * @param {Visit} visit
 * @param {Book} book
 * @returns {Proposal[]}
 */
export function proposals(visit, book) {
  return visit.bundle.picks.flatMap((_, at) => propose(visit, at, book) ?? []);
}

/**
 * A proposal in words.
 * @param {Proposal} proposal
 * @param {Visit} visit
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string}
 */
export function sayProposal({ code, kind, field, value, target }, visit, book, speech) {
  const exercise = book.exercises[code].title;
  const other = target ? book.exercises[target].title : "";
  if (kind === "back") {
    const bound = speech.number(book.clinic.bounds[1]);
    return target ? speech.say("clinician.visit_back", { exercise, bound, other }) : speech.say("clinician.visit_hurt", { exercise, bound });
  }
  if (kind === "on") return target ? speech.say("clinician.visit_on", { exercise, other }) : speech.say("clinician.visit_end", { exercise });
  const pick = /** @type {Pick} */ (visit.bundle.picks.find((one) => one.code === code));
  const dose = { ...wholeDose(pick, book), [field ?? ""]: value };
  return speech.say("clinician.visit_more", { exercise, dose: doseLine(dose, speech, namesOf(dose, book)) });
}

/**
 * For the chart: how many sessions in how many days, each exercise, what is proposed, and what the log cannot tell.
 * @param {Visit} visit
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string[]}
 */
export function sayVisit(visit, book, speech) {
  const { fromFirst, today, all, sessions } = visit;
  const lines = [speech.say("clinician.visit_title", { sessions: speech.count("clinician.visit_sessions", all), days: speech.count("clinician.visit_days", today + 1) })];
  if (fromFirst) lines.push(speech.say("clinician.visit_from_first"));
  if (sessions.length < all) lines.push(speech.count("clinician.visit_latest", sessions.length));
  visit.bundle.picks.forEach((pick, at) => lines.push(`- ${sayDone(doneOf(visit, at, book), wholeDose(pick, book), book.exercises[pick.code].title, speech)}`));
  visit.bundle.picks.forEach((pick, at) => {
    const [met, ...criteria] = sayCriteria(book.exercises[pick.code], timesOf(visit, at, book), speech);
    if (met) lines.push(`- ${speech.say("clinician.visit_line", { exercise: book.exercises[pick.code].title, done: [met, ...criteria].reduce((first, second) => speech.say("steps.and_then", { first, second })) })}`);
  });
  lines.push(...proposals(visit, book).map((one) => `- ${sayProposal(one, visit, book, speech)}`), speech.say("clinician.visit_cannot"));
  return lines;
}

/**
 * @param {Done} found
 * @param {import("./code.js").Dose} dose
 * @param {string} exercise
 * @param {Speech} speech
 * @returns {string}
 */
function sayDone({ done, whole, planned, effort, pain, after }, dose, exercise, speech) {
  const number = (/** @type {number} */ value) => speech.number(value);
  const often = planned === null ? speech.count("clinician.visit_times", done) : speech.say("clinician.visit_of", { done: number(done), planned: number(planned) });
  const asked = effortLine(dose, speech);
  const told = (/** @type {"effort" | "pain"} */ name, /** @type {number[]} */ values) => {
    if (!values.length) return done ? speech.say(`clinician.visit_no_${name}`) : "";
    const [low, high] = [Math.min(...values), Math.max(...values)];
    if (low === high) return speech.say(`clinician.visit_${name}`, { n: number(low) });
    return speech.say(`clinician.visit_${name}_span`, { low: number(low), high: number(high), last: number(values[values.length - 1]) });
  };
  const parts = [
    often,
    done > whole ? speech.count("clinician.visit_part", done - whole) : "",
    told("effort", effort),
    asked && effort.length ? speech.say("clinician.visit_asked", { effort: asked }) : "",
    told("pain", pain),
    after.length ? speech.say("clinician.visit_after", { pain: told("pain", after) }) : "",
  ];
  return speech.say("clinician.visit_line", { exercise, done: joinDoseParts(parts, speech) });
}
