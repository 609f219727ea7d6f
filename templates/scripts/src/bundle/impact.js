/**
 * Landings and minutes of running, what a session and a week add up to: the twin of handouts/dose/impact.py.  Pure; a number is
 * never invented.
 */

import { aboutMinutes, isByOccasion, sidesOf } from "./dose_words.js";
import { dosesIn } from "./stages.js";

/** @typedef {import("./code.js").Dose} Dose */
/** @typedef {import("./speech.js").Speech} Speech */
/** @typedef {{contacts: number, running: number, contactsWeekly: number | null, runningWeekly: number | null}} Impact  Running in seconds. */

/**
 * @param {Dose} dose
 * @returns {number} landings in one session
 */
function contactsOf(dose) {
  return dose.count === "contacts" ? dose.sets * sidesOf(dose) * (dose.repsTo ?? dose.reps ?? 0) : 0;
}

/**
 * @param {Dose} dose
 * @returns {number} seconds of running in one session
 */
function runningOf(dose) {
  return dose.work === "run" || dose.work === "run-walk" ? dose.sets * sidesOf(dose) * (dose.time ?? 0) : 0;
}

/**
 * @param {Dose[]} doses
 * @returns {Impact}
 */
export function addUpImpact(doses) {
  const given = doses.filter((dose) => contactsOf(dose) || runningOf(dose));
  const sum = (/** @type {Dose[]} */ some, /** @type {(dose: Dose) => number} */ amount) => some.reduce((total, dose) => total + amount(dose), 0);
  const session = given.filter((dose) => !isByOccasion(dose));
  const [contacts, running] = [sum(session, contactsOf), sum(session, runningOf)];
  if (given.some((dose) => dose.days === undefined || isByOccasion(dose))) return { contacts, running, contactsWeekly: null, runningWeekly: null };
  const often = (/** @type {Dose} */ dose) => (dose.days ?? 0) * dose.times;
  return { contacts, running, contactsWeekly: sum(given, (dose) => contactsOf(dose) * often(dose)), runningWeekly: sum(given, (dose) => runningOf(dose) * often(dose)) };
}

/**
 * Landings and running in a session and in a week; none where there are neither.
 * @param {Impact} impact
 * @param {Speech} speech
 * @returns {string[]}
 */
export function sayImpact({ contacts, running, contactsWeekly, runningWeekly }, speech) {
  const session = saySums(contacts, running, speech);
  if (contactsWeekly === null || runningWeekly === null) return [...(session ? [speech.say("dose.impact_session", { sums: session })] : []), speech.say("dose.impact_unknown")];
  return session ? [speech.say("dose.impact_session", { sums: session }), speech.say("dose.impact_week", { sums: saySums(contactsWeekly, runningWeekly, speech) })] : [];
}

/**
 * @param {number} contacts
 * @param {number} running
 * @param {Speech} speech
 * @returns {string}
 */
function saySums(contacts, running, speech) {
  const sums = [...(contacts ? [speech.count("dose.contacts", contacts)] : []), ...(running ? [speech.say("dose.running", { minutes: aboutMinutes(running, speech) })] : [])];
  return sums.length ? speech.join(sums) : "";
}

/**
 * By each week in which a stage begins how a week's sums over all exercises grow, in percent a week.
 * @param {{dose: Dose, stages: import("./stages.js").Stage[]}[]} plans
 * @returns {{week: number, isRunning: boolean, percent: number}[]}
 */
export function impactGrowths(plans) {
  const weeks = [...new Set(plans.flatMap(({ stages }) => stages.map(({ week }) => week)))].filter((week) => week > 1).sort((one, other) => one - other);
  let [before, last] = [addUpImpact(plans.map(({ dose }) => dose)), 1];
  return weeks.flatMap((week) => {
    const after = addUpImpact(plans.map(({ dose, stages }) => dosesIn(dose, stages, week)));
    const pairs = /** @type {[boolean, number | null, number | null][]} */ ([[false, before.contactsWeekly, after.contactsWeekly], [true, before.runningWeekly, after.runningWeekly]]);
    const found = pairs.flatMap(([isRunning, old, now]) => (old && now && now > old ? [{ week, isRunning, percent: ((now / old - 1) * 100) / (week - last) }] : []));
    [before, last] = [after, week];
    return found;
  });
}
