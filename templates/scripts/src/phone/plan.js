/**
 * A session as a row of steps with their lengths, and where one is inside a step.  The only place that knows the order
 * and the length of anything; its sums are those of handouts/dose/session.py.  Pure.
 */

import { doseKind, hasTwoSides, isInterval } from "../bundle/dose_words.js";
import { visitsOf } from "../bundle/parts.js";
import { exerciseSeconds } from "../bundle/sums.js";

/** @typedef {import("../bundle/code.js").Dose} Dose */
/** @typedef {{dose: Dose, position: string, part?: string}} Row */
/** @typedef {"begin" | "lead" | "turn" | "work" | "rest" | "warm" | "cool"} StepKind */
/** @typedef {string} StepSide  `first` and `other` where each side has its turn, else the side of the dose; empty where there are none. */
/**
 * @typedef {{kind: StepKind, exercise: number, set: number, sets: number, side: StepSide, seconds: number | null,
 *   waits: boolean, counted: string, reps: number, beat: number[], inRounds?: boolean}} Step
 * `begin`: fetch, change position, read; then it waits for a tap.  `lead`: a few seconds to take up the position, on top
 * of the prescription; `turn`: the same, to change sides.  `work`: one set on one side.  `seconds` is null where the dose does not say how long it takes;
 * `warm` and `cool`: before the first set and after the last; in rounds a rest follows the last set too;
 * a step that `waits` ends only by a tap; `inRounds`: its set is the number of the round.  `counted` is reps, hold, time or distance; `beat` holds the seconds of one
 * repetition: there, held, back, pause.
 * @typedef {{rep: number, phase: number, left: number, share: number}} Moment
 * Repetition from 1, phase of the beat (-1 where there is none), whole seconds left in it, and how far the movement
 * is from picture 1 (0) to picture 2 (1).
 */

/** Seconds to put the phone down and take up the position; on top of the prescription, never part of its sums. */
export const LEAD_SECONDS = 5;

/**
 * @param {Row[]} rows exercises in the order of the bundle
 * @param {{change: number, between: number}} policy the clinic's seconds
 * @param {number} [rest] after each round
 * @returns {Step[]}
 */
export function planSession(rows, policy, rest) {
  const visits = visitsOf(rows, rest);
  return visits.flatMap(({ row, dose, round, rest: before }, at) => {
    const moves = at > 0 && row.position !== visits[at - 1].row.position;
    const pause = at === 0 ? 0 : before + policy.between + (moves ? policy.change : 0);
    const empty = { exercise: rows.indexOf(row), set: round || 1, sets: row.dose.sets, side: /** @type {StepSide} */ (""), counted: doseKind(dose), reps: dose.repsTo ?? dose.reps ?? 0, beat: beatOf(dose), ...(round ? { inRounds: true } : {}) };
    return [{ ...empty, kind: /** @type {StepKind} */ ("begin"), seconds: pause, waits: true }, ...planBouts(dose, empty)];
  });
}

/**
 * @param {Dose} dose
 * @param {Omit<Step, "kind" | "seconds" | "waits">} empty  `set`: the first of these
 * @returns {Step[]}
 */
function planBouts(dose, empty) {
  /** @type {Step[]} */
  const steps = [];
  const { warmUp = 0, coolDown = 0, ...bare } = dose;
  const seconds = exerciseSeconds({ ...bare, sets: 1, side: "one", rest: 0 });
  if (warmUp) steps.push({ ...empty, kind: "warm", seconds: warmUp, waits: false });
  const waits = seconds === null || empty.counted === "distance";
  for (const { set: own, side } of boutsInTurn(dose)) {
    const set = own + empty.set - 1;
    const before = steps.filter(({ kind }) => kind === "work").at(-1);
    const turns = before !== undefined && before.side !== side;
    const bout = { ...empty, set, side, waits: false };
    // In rounds a rest is the other part of the round before it.
    if (before && dose.rest > 0) steps.push({ ...(isInterval(dose) ? { ...before, waits: false } : bout), kind: "rest", seconds: dose.rest });
    if (turns) steps.push({ ...bout, kind: "turn", seconds: LEAD_SECONDS });
    else if (!before || dose.rest <= 0) steps.push({ ...bout, kind: "lead", seconds: LEAD_SECONDS });
    steps.push({ ...bout, kind: "work", seconds, waits });
  }
  const last = steps[steps.length - 1];
  if (isInterval(dose) && dose.rest) steps.push({ ...last, kind: "rest", seconds: dose.rest, waits: false });
  if (coolDown) steps.push({ ...last, kind: "cool", seconds: coolDown, waits: false });
  return steps;
}

/**
 * Every set on every side in its order: the side changes after each set, or after all sets.
 * @param {Dose} dose
 * @returns {{set: number, side: StepSide}[]}
 */
function boutsInTurn(dose) {
  const sets = Array.from({ length: dose.sets }, (_, at) => at + 1);
  /** @type {StepSide[]} */
  const sides = hasTwoSides(dose) ? ["first", "other"] : [dose.side === "together" ? "" : dose.side];
  if (dose.side === "one-side-first") return sides.flatMap((side) => sets.map((set) => ({ set, side })));
  return sets.flatMap((set) => sides.map((side) => ({ set, side })));
}

/**
 * Seconds of one repetition: there, held, back, pause; a hold beside repetitions is added to the tempo's.
 * @param {Dose} dose
 * @returns {number[]}
 */
function beatOf(dose) {
  if (dose.reps === undefined) return [0, 0, 0, 0];
  const [go = 0, hold = 0, back = 0, pause = 0] = dose.tempo ?? [];
  return [go, hold + (dose.hold ?? 0), back, pause];
}

/**
 * Where one is in a step after some seconds.
 * @param {Step} step
 * @param {number} elapsed seconds
 * @returns {Moment}
 */
export function momentOf(step, elapsed) {
  const whole = step.beat.reduce((sum, part) => sum + part, 0);
  if (step.kind !== "work" || whole === 0) {
    return { rep: 0, phase: -1, left: Math.max(0, Math.ceil((step.seconds ?? 0) - elapsed - 1e-6)), share: step.counted === "reps" ? 0 : 1 };
  }
  const done = Math.min(step.reps - 1, Math.floor(elapsed / whole + 1e-9));
  let inside = Math.min(whole, elapsed - done * whole);
  let phase = 0;
  while (phase < 3 && (step.beat[phase] === 0 || inside >= step.beat[phase] - 1e-6)) {
    if (step.beat.slice(phase + 1).every((part) => part === 0)) break;
    inside -= step.beat[phase];
    phase += 1;
  }
  const share = Math.min(1, Math.max(0, inside / (step.beat[phase] || 1)));
  return { rep: done + 1, phase, left: Math.max(0, Math.ceil(step.beat[phase] - inside - 1e-6)), share: [share, 1, 1 - share, 0][phase] };
}
