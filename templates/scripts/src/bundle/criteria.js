/**
 * What a log says of the condition for the next exercise: which criteria it shows, and which it cannot know.  Never that somebody
 * is ready.  Pure; the criteria are written by handouts/publication/ready.py.
 */

import { AMOUNTS } from "../phone/log.js";

/**
 * @typedef {{kind: "amount" | "pain" | "pain_next_day" | "effort" | "test", says: string, sets?: number, days?: number, most?: number, reps?: number,
 *   hold?: number, time?: number, distance?: number}} Criterion
 * @typedef {{day: string | number, sets: number, amounts: {reps?: number, hold?: number, time?: number, distance?: number},
 *   effort: number | null, pain: number | null, after: number | null, alone: boolean}} Time  One session with the exercise; `after`: pain on the day after; `alone`: with no other one.
 * @typedef {"met" | "not" | "unknown"} State
 */

const PHRASES = { met: "steps.criterion_met", not: "steps.criterion_not", unknown: "steps.criterion_unknown" };

/**
 * @param {Criterion[]} criteria
 * @param {Time[]} times  the oldest first
 * @returns {State[]}
 */
export function weigh(criteria, times) {
  const wanted = criteria.find(({ kind }) => kind === "amount")?.days ?? 1;
  const days = [...new Set(times.map(({ day }) => day))].slice(-wanted);
  const latest = times.filter(({ day }) => days.includes(day));
  return criteria.map((criterion) => {
    if (criterion.kind === "test") return "unknown";
    if (criterion.kind !== "amount") return weighAnswer(criterion.kind === "pain_next_day" ? "after" : criterion.kind, criterion.most ?? 0, latest);
    const isReached = (/** @type {Time} */ { sets, amounts }) =>
      sets >= (criterion.sets ?? 1) && AMOUNTS.every((name) => criterion[name] === undefined || (amounts[name] ?? 0) >= criterion[name]);
    return days.length === wanted && days.every((day) => latest.some((time) => time.day === day && isReached(time))) ? "met" : "not";
  });
}

/**
 * An answer is asked once a session: a high one after several exercises tells of none of them.
 * @param {"pain" | "effort" | "after"} name
 * @param {number} most
 * @param {Time[]} times
 * @returns {State}
 */
function weighAnswer(name, most, times) {
  const over = times.filter((time) => (time[name] ?? 0) > most);
  if (over.some(({ alone }) => alone)) return "not";
  return over.length || !times.length || times.some((time) => time[name] === null) ? "unknown" : "met";
}

/**
 * How many of how many, each criterion with its state, and that the author's sentence may hold more.
 * @param {{criteria: Criterion[], whole: boolean}} entry
 * @param {Time[]} times
 * @param {import("./speech.js").Speech} speech
 * @returns {string[]} none where nothing is measured
 */
export function sayCriteria({ criteria, whole }, times, speech) {
  if (!criteria.length) return [];
  const states = weigh(criteria, times);
  const met = speech.number(states.filter((state) => state === "met").length);
  return [
    speech.say("steps.criteria", { met, all: speech.number(criteria.length) }),
    ...criteria.map(({ says }, at) => speech.say(PHRASES[states[at]], { criterion: says })),
    ...(whole ? [] : [speech.say("steps.criteria_rest")]),
  ];
}
