/**
 * What doses and sessions add up to, and the order with the fewest changes of position: the twin of
 * handouts/dose/arithmetic.py and handouts/dose/session.py.  Pure; an unknown length stays unknown.
 */

import { doseKind, isByOccasion, isInterval, sidesOf } from "./dose_words.js";
import { visitsOf } from "./parts.js";
import { roundEven } from "./round.js";

/** @typedef {import("./code.js").Dose} Dose */
/** @typedef {{exercises: number, minutes: number, change: number, between: number}} Policy  The clinic's limits, and seconds. */
/** @typedef {{seconds: number, unknown: number[], changes: number, weekly: number, equipment: string[], occasions: number[]}} SessionTotals  `unknown` and `occasions` by place: of unknown length, and done by occasion, which is in no sum. */

const WALKING_METRES_PER_SECOND = 0.8;
const EXACT_UP_TO = 12;
const SECONDS_IN_MINUTE = 60;

/**
 * Length of one exercise in one session in seconds, or null.
 * @param {Dose} dose
 * @returns {number | null}
 */
export function exerciseSeconds(dose) {
  const work = setSeconds(dose);
  const bouts = dose.sets * sidesOf(dose);
  return work === null ? null : bouts * work + dose.rest * (bouts - (isInterval(dose) ? 0 : 1)) + (dose.warmUp ?? 0) + (dose.coolDown ?? 0);
}

/**
 * @param {Dose} dose
 * @returns {number | null}
 */
function setSeconds(dose) {
  const kind = doseKind(dose);
  if (kind === "time") return dose.time ?? 0;
  if (kind === "distance" && dose.work && dose.pace === undefined) return null;
  if (kind === "distance") return roundEven((dose.distance ?? 0) / (dose.pace ?? WALKING_METRES_PER_SECOND));
  if (kind === "hold") return dose.hold ?? null;
  const reps = dose.repsTo ?? dose.reps ?? 0;
  if (dose.rate !== undefined) return Math.ceil((reps * SECONDS_IN_MINUTE) / dose.rate);
  if (!dose.tempo && dose.hold === undefined) return null;
  const tempo = (dose.tempo ?? []).reduce((sum, part) => sum + part, 0);
  return reps * (tempo + (dose.hold ?? 0));
}

/**
 * Length of a session in seconds, over the exercises whose length is known; what is done by occasion is not in it.
 * @param {{dose: Dose, position: string}[]} all
 * @param {{change: number, between: number}} policy
 * @returns {number}
 */
export function sessionSeconds(all, policy) {
  const picks = all.filter(({ dose }) => !isByOccasion(dose));
  return picks.reduce((sum, { dose }) => sum + (exerciseSeconds(dose) ?? 0), pausesOf(picks, policy));
}

/**
 * The same of a session in parts.
 * @param {{dose: Dose, position: string, part?: string}[]} all
 * @param {{change: number, between: number}} policy
 * @param {number} [rest]  after each round
 * @returns {number}
 */
export function partedSeconds(all, policy, rest = 0) {
  const visits = visitsOf(all, rest);
  const gone = visits.map(({ row, dose }) => ({ dose, position: row.position }));
  return visits.reduce((sum, visit) => sum + visit.rest, sessionSeconds(gone, policy));
}

/**
 * The totals of exercises with their doses, in the order given; what is done by occasion is in none of the minutes.  Each session of a
 * week has only what is done in it.
 * @param {{dose: Dose, position: string, equipment: string[], part?: string}[]} all
 * @param {Policy} policy
 * @param {number} [rest]  after each round
 * @returns {SessionTotals}
 */
export function addUpSession(all, policy, rest = 0) {
  const occasions = all.flatMap(({ dose }, at) => (isByOccasion(dose) ? [at] : []));
  const picks = all.filter(({ dose }) => !isByOccasion(dose));
  const unknown = all.flatMap(({ dose }, at) => (!isByOccasion(dose) && exerciseSeconds(dose) === null ? [at] : []));
  let weekly = 0;
  for (let day = 1; day <= Math.max(0, ...picks.map(({ dose }) => dose.days ?? 0)); day += 1) {
    for (let time = 1; time <= Math.max(0, ...picks.map(({ dose }) => dose.times)); time += 1) {
      weekly += partedSeconds(picks.filter(({ dose }) => (dose.days ?? 0) >= day && dose.times >= time), policy, rest);
    }
  }
  const changes = countChanges(visitsOf(picks, rest).map(({ row }) => row));
  const equipment = [...new Set(all.flatMap((pick) => pick.equipment))];
  return { seconds: partedSeconds(picks, policy, rest), unknown, changes, weekly, equipment, occasions };
}

/**
 * @param {{position: string}[]} picks
 * @returns {number} how often neighbours differ in position
 */
function countChanges(picks) {
  return picks.filter((pick, at) => at > 0 && pick.position !== picks[at - 1].position).length;
}

/**
 * Seconds between exercises and to change position in one session.
 * @param {{position: string}[]} picks
 * @param {{change: number, between: number}} policy
 * @returns {number}
 */
function pausesOf(picks, policy) {
  return countChanges(picks) * policy.change + Math.max(0, picks.length - 1) * policy.between;
}

/**
 * The order that changes position least, what comes before kept before what builds on it.
 * @param {string[]} positions
 * @param {number[][]} earlier  for each exercise the places of those that come before it
 * @returns {number[]} places in the order given
 */
export function orderSession(positions, earlier) {
  const given = positions.map((_, at) => at);
  if (given.some((one) => given.some((other) => earlier[other].includes(one) && earlier[one].includes(other)))) return given;
  return positions.length <= EXACT_UP_TO ? orderExactly(positions, earlier) : orderGreedily(positions, earlier);
}

/**
 * Dynamic programming over sets of exercises done, the fewest changes first, then the order closest to the one given.
 * @param {string[]} positions
 * @param {number[][]} earlier
 * @returns {number[]}
 */
function orderExactly(positions, earlier) {
  const needs = earlier.map((places) => places.reduce((bits, place) => bits | (1 << place), 0));
  /** @type {Map<number, {cost: number, path: number[]}>} keyed by the set done and the last exercise */
  let best = new Map();
  positions.forEach((_, at) => {
    if (needs[at] === 0) best.set((1 << at) * 16 + at, { cost: 0, path: [at] });
  });
  for (let step = 1; step < positions.length; step += 1) {
    /** @type {Map<number, {cost: number, path: number[]}>} */
    const longer = new Map();
    for (const [key, { cost, path }] of best) {
      const done = Math.floor(key / 16);
      for (let at = 0; at < positions.length; at += 1) {
        if ((done >> at) & 1 || (needs[at] & ~done) !== 0) continue;
        const candidate = { cost: cost + (positions[at] === positions[path[path.length - 1]] ? 0 : 1), path: [...path, at] };
        const place = (done | (1 << at)) * 16 + at;
        const known = longer.get(place);
        if (!known || isBefore(candidate, known)) longer.set(place, candidate);
      }
    }
    best = longer;
  }
  const found = [...best.values()].reduce((one, other) => (isBefore(other, one) ? other : one), { cost: Infinity, path: /** @type {number[]} */ ([]) });
  return found.path;
}

/**
 * @param {{cost: number, path: number[]}} one
 * @param {{cost: number, path: number[]}} other
 * @returns {boolean}
 */
function isBefore(one, other) {
  if (one.cost !== other.cost) return one.cost < other.cost;
  const at = one.path.findIndex((place, index) => place !== other.path[index]);
  return at >= 0 && one.path[at] < other.path[at];
}

/**
 * @param {string[]} positions
 * @param {number[][]} earlier
 * @returns {number[]}
 */
function orderGreedily(positions, earlier) {
  /** @type {number[]} */
  const path = [];
  while (path.length < positions.length) {
    const free = positions.map((_, at) => at).filter((at) => !path.includes(at) && earlier[at].every((place) => path.includes(place)));
    path.push(free.find((at) => path.length > 0 && positions[at] === positions[path[path.length - 1]]) ?? free[0]);
  }
  return path;
}
