/** What of a log belongs to a plan, with days counted from its first one: what a patient shows at the clinic.  Pure. */

import { AMOUNTS } from "./log.js";

/** @typedef {{code: string, doses: import("../bundle/code.js").Dose[], stageOn?: (day: string) => number}} PlanPick  The doses of its stages; which one a day belongs to. */
/** @typedef {import("./log.js").Done} Done */

const MILLISECONDS_A_DAY = 86_400_000;

/**
 * The sessions of a plan.  Left out are days before its first one, other exercises, and sets with other numbers than the plan's.
 * @param {import("./log.js").Log} log
 * @param {PlanPick[]} picks
 * @param {string} firstDay  the day on which the list was kept; empty where it is not known
 * @param {string} today
 * @returns {import("../bundle/log_code.js").ShownLog}
 */
export function shownLog(log, picks, firstDay, today) {
  const own = log.entries
    .filter(({ date }) => date >= firstDay)
    .map(({ date, done, effort, pain, after }) => {
      const stages = picks.map((pick) => stageOf(pick, done, date));
      const staged = picks.some(({ doses }) => doses.length > 1) ? { stages } : {};
      return { date, effort, pain, sets: picks.map((pick, at) => setsOf(pick.code, pick.doses[stages[at]], done)), ...staged, ...(after === undefined ? {} : { after }) };
    })
    .filter(({ sets }) => sets.some((count) => count > 0));
  const first = firstDay || own[0]?.date || today;
  // A clock that was put back does not make a session later than today.
  const last = [today, ...own.map(({ date }) => date)].reduce((one, other) => (other > one ? other : one));
  const sessions = own.map(({ date, ...session }) => ({ day: daysBetween(first, date), ...session }));
  return { fromFirst: !firstDay, today: Math.max(0, daysBetween(first, last)), all: sessions.length, sessions };
}

/**
 * The stage in which something was done: that of the day, else the nearest before it that fits; the first where nothing was.
 * @param {PlanPick} pick
 * @param {Done[]} done
 * @param {string} day
 * @returns {number}
 */
function stageOf({ code, doses, stageOn }, done, day) {
  const now = stageOn?.(day) ?? 0;
  const order = doses.map((_, at) => at).sort((one, other) => Number(one > now) - Number(other > now) || Math.abs(one - now) - Math.abs(other - now));
  return order.find((at) => setsOf(code, doses[at], done) > 0) ?? 0;
}

/**
 * @param {string} code
 * @param {import("../bundle/code.js").Dose} dose
 * @param {Done[]} done
 * @returns {number}
 */
function setsOf(code, dose, done) {
  const found = done.filter((one) => one.code === code && one.of === dose.sets && AMOUNTS.every((name) => one[name] === dose[name]));
  return Math.min(dose.sets, found.reduce((sum, one) => sum + Math.round(one.sets * 2) / 2, 0));
}

/**
 * @param {string} from
 * @param {string} to
 * @returns {number} whole days, whatever the clocks did between
 */
export function daysBetween(from, to) {
  return Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / MILLISECONDS_A_DAY);
}
