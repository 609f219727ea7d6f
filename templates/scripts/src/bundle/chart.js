/** A bundle as plain text for the chart: the twin of handouts/bundle/chart.py. */

import { namesOf, stampIn, totalsOf, wholeDose } from "./book.js";
import { aboutMinutes, doseParts, joinDoseParts } from "./dose_words.js";
import { locationName } from "./next_visit.js";
import { sayBeside, sayPartsOf } from "./said_stages.js";
import { addUpImpact, sayImpact } from "./impact.js";
import { dosesIn } from "./stages.js";
import { originOf, placeOf } from "./steps.js";
import { addUpSession } from "./sums.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./speech.js").Speech} Speech */

/**
 * Minutes of a session and of a week, and what to fetch, in words.
 * @param {import("./code.js").Pick[]} picks
 * @param {Book} book
 * @param {Speech} speech
 * @param {number} [rest]  after each round
 * @returns {string[]}
 */
export function sayTotals(picks, book, speech, rest) {
  const totals = totalsOf(picks, book, rest);
  const minutes = aboutMinutes(totals.seconds, speech);
  const exercises = speech.join(totals.unknown.map((at) => book.exercises[picks[at].code].title));
  const inSession = picks.length - totals.occasions.length;
  const [known, some] = [totals.unknown.length < inSession, totals.unknown.length > 0];
  const session = some ? speech.say(known ? "clinician.session_more" : "clinician.session_open", { minutes, exercises }) : speech.say("clinician.session", { minutes });
  const things = speech.join(totals.equipment.map((slug) => book.terms.equipment[slug]));
  return [
    ...(inSession ? [session] : []),
    ...(known ? [speech.say("clinician.weekly", { minutes: aboutMinutes(totals.weekly, speech) })] : []),
    ...sayByOccasion(totals.occasions.map((at) => book.exercises[picks[at].code].title), speech),
    things ? speech.say("clinician.fetch", { things }) : speech.say("clinician.fetch_nothing"),
  ];
}

/**
 * What is done by occasion, and is in no sum of minutes.
 * @param {string[]} exercises
 * @param {Speech} speech
 * @returns {string[]}
 */
export function sayByOccasion(exercises, speech) {
  return exercises.length ? [speech.say("dose.by_occasion", { exercises: speech.join(exercises) })] : [];
}

/**
 * How long a session takes from each week on in which that changes.
 * @param {import("./code.js").Bundle} bundle
 * @param {Book} book
 * @param {Speech} speech
 * @returns {[number, string][]}
 */
export function laterMinutes({ picks, roundRest }, book, speech) {
  const weeks = [...new Set(picks.flatMap(({ stages }) => (stages ?? []).map(({ week }) => week)))].filter(Boolean).sort((one, other) => one - other);
  const minutesIn = (/** @type {number} */ week) => {
    const then = picks.map((pick) => ({ ...book.exercises[pick.code], part: pick.part, dose: dosesIn(wholeDose(pick, book), pick.stages ?? [], week) }));
    return aboutMinutes(addUpSession(then, book.policy, roundRest).seconds, speech);
  };
  const said = [1, ...weeks].map((week) => /** @type {[number, string]} */ ([week, minutesIn(week)]));
  return said.filter(([, minutes], at) => at > 0 && minutes !== said[at - 1][1]);
}

/**
 * For the record: the programme with its step, and what of it is lost; a sentence each.
 * @param {import("./code.js").Bundle} bundle
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string[]}
 */
export function sayBegun(bundle, book, speech) {
  const { name, lost } = placeOf(originOf(bundle), book);
  return [...(name ? [speech.say("clinician.chart_begun", { origin: name })] : []), ...(lost ? [speech.say(`clinician.lost_${lost}`)] : [])];
}

/**
 * The text, a line for each fact.
 * @param {import("./code.js").Bundle} bundle
 * @param {string} code
 * @param {Book} book
 * @param {Speech} speech
 * @param {{limits: string[], findings: string[], visit?: string[]}} notes  `visit`: what a log says that the patient showed
 * @returns {string}
 */
export function chartText(bundle, code, book, speech, notes) {
  const lines = [
    speech.say("clinician.chart_title", { clinic: book.clinic.name, location: locationName(bundle.location, book) }),
    speech.say("clinician.chart_language", { language: speech.nameOf(bundle.language), weeks: speech.count("clinician.weeks", bundle.weeks) }),
  ];
  lines.push(...sayBegun(bundle, book, speech));
  bundle.picks.forEach((pick, at) => {
    const { title } = book.exercises[pick.code];
    const stamp = stampIn(pick.code, bundle.language, book);
    const dose = wholeDose(pick, book);
    const words = joinDoseParts(doseParts(dose, speech, namesOf(dose, book)), speech);
    lines.push(speech.say("clinician.chart_item", { n: speech.number(at + 1), exercise: title, code: `${pick.code} ${stamp}`.trim(), dose: words }));
    lines.push(...sayBeside(pick, book, speech).map((line) => `   ${line}`));
  });
  lines.push(...sayTotals(bundle.picks, book, speech, bundle.roundRest));
  lines.push(...sayImpact(addUpImpact(bundle.picks.map((pick) => wholeDose(pick, book))), speech));
  lines.push(...sayPartsOf(bundle, book, speech));
  lines.push(...laterMinutes(bundle, book, speech).map(([week, minutes]) => speech.say("paper.session_later", { n: speech.number(week), minutes })));
  const cue = book.cues[bundle.cue ?? ""];
  if (cue) lines.push(speech.say("dose.session_cue", { cue }));
  const given = (bundle.given ?? []).map((one) => `${book.handed[one][0]} (${one})`);
  if (given.length) lines.push(speech.say("clinician.chart_given", { things: speech.join(given) }));
  lines.push(notes.limits.length ? speech.say("clinician.chart_limits", { limits: speech.join(notes.limits) }) : speech.say("clinician.chart_no_limits"));
  if (notes.findings.length) lines.push(speech.say("clinician.chart_found"), ...notes.findings.map((text) => `- ${text}`));
  lines.push(...(notes.visit ?? []));
  lines.push(speech.say("clinician.chart_version", { version: book.version }), speech.say("clinician.chart_code", { code }));
  return lines.join("\n");
}
