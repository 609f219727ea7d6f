/** A session under way: which step, how far in it, what was done.  Pure: each change gives a new state. */

/** @typedef {import("./plan.js").Step} Step */
/**
 * @typedef {{at: number, elapsed: number, running: boolean, bouts: number[], left?: number[]}} Run
 * `elapsed` in milliseconds; `bouts` counts by exercise the sets done, each side for itself; `left` are the exercises that are left out from here on.
 */

/** Milliseconds past the end of a step that the next one takes over; after a longer gap (a phone asleep) it begins anew. */
const MOST_CARRIED = 1000;

/**
 * @param {Step[]} plan
 * @returns {Run}
 */
export function startRun(plan) {
  const exercises = plan.reduce((most, step) => Math.max(most, step.exercise + 1), 0);
  return { at: 0, elapsed: 0, running: true, bouts: Array.from({ length: exercises }, () => 0) };
}

/**
 * @param {Run} run
 * @param {Step[]} plan
 * @returns {boolean}
 */
export function isOver(run, plan) {
  return run.at >= plan.length;
}

/**
 * Lets time pass; at most one step ends.
 * @param {Run} run
 * @param {Step[]} plan
 * @param {number} passed milliseconds
 * @returns {Run}
 */
export function passTime(run, plan, passed) {
  if (!run.running || isOver(run, plan)) return run;
  const step = plan[run.at];
  const elapsed = run.elapsed + Math.max(0, passed);
  const length = step.seconds === null ? Infinity : step.seconds * 1000;
  if (elapsed < length || step.waits) return { ...run, elapsed };
  const over = elapsed - length;
  return leaveStep({ ...run, elapsed: over <= MOST_CARRIED ? over : 0 }, plan, true);
}

/**
 * Ends the present step by a tap: a set counts as done.
 * @param {Run} run
 * @param {Step[]} plan
 * @returns {Run}
 */
export function finishStep(run, plan) {
  return isOver(run, plan) ? run : leaveStep({ ...run, elapsed: 0, running: true }, plan, true);
}

/**
 * Leaves the present step out: a set does not count as done.
 * @param {Run} run
 * @param {Step[]} plan
 * @returns {Run}
 */
export function skipStep(run, plan) {
  return isOver(run, plan) ? run : leaveStep({ ...run, elapsed: 0, running: true }, plan, false);
}

/**
 * @param {Run} run
 * @param {Step[]} plan
 * @param {boolean} done
 * @returns {Run}
 */
function leaveStep(run, plan, done) {
  const step = plan[run.at];
  const counts = done && step.kind === "work";
  const bouts = counts ? run.bouts.map((count, exercise) => (exercise === step.exercise ? count + 1 : count)) : run.bouts;
  return { ...run, bouts, at: nextOf(run, plan, () => true) };
}

/**
 * The place of the next step of a kind that is not of an exercise that is left out; the end where there is none.
 * @param {Run} run
 * @param {Step[]} plan
 * @param {(step: Step) => boolean} fits
 * @returns {number}
 */
function nextOf({ at, left = [] }, plan, fits) {
  const next = plan.findIndex((step, place) => place > at && fits(step) && !left.includes(step.exercise));
  return next < 0 ? plan.length : next;
}

/**
 * To the beginning of the next exercise, or to the end.
 * @param {Run} run
 * @param {Step[]} plan
 * @returns {Run}
 */
export function skipExercise(run, plan) {
  if (isOver(run, plan)) return run;
  return { ...run, at: nextOf(run, plan, ({ kind }) => kind === "begin"), elapsed: 0, running: true };
}

/**
 * Leaves the present exercise out, in later rounds too.
 * @param {Run} run
 * @param {Step[]} plan
 * @returns {Run}
 */
export function leaveExercise(run, plan) {
  if (isOver(run, plan)) return run;
  return skipExercise({ ...run, left: [...new Set([...(run.left ?? []), plan[run.at].exercise])] }, plan);
}

/**
 * Back to the beginning of the step, or, within its first three seconds, of the step before.
 * @param {Run} run
 * @param {Step[]} plan
 * @returns {Run}
 */
export function goBack(run, plan) {
  let to = run.at - 1;
  while (to >= 0 && run.left?.includes(plan[to].exercise)) to -= 1;
  if (run.elapsed > 3000 || to < 0) return { ...run, elapsed: 0 };
  const before = plan[to];
  const undone = before.kind === "work";
  const bouts = undone ? run.bouts.map((count, exercise) => (exercise === before.exercise ? Math.max(0, count - 1) : count)) : run.bouts;
  return { ...run, at: to, elapsed: 0, bouts };
}

/**
 * Stops or goes on.
 * @param {Run} run
 * @param {boolean} running
 * @returns {Run}
 */
export function setRunning(run, running) {
  return { ...run, running };
}

/**
 * A session as it was kept, or null where it does not fit the plan.
 * @param {string} text
 * @param {Step[]} plan
 * @returns {Run | null}
 */
export function readRun(text, plan) {
  const fresh = startRun(plan);
  const found = /^(\d{1,4}):(\d{1,3}(?:,\d{1,3})*)(?::(\d{1,2}(?:,\d{1,2})*))?$/.exec(text);
  if (!found) return null;
  const at = Number(found[1]);
  const bouts = found[2].split(",").map(Number);
  const left = found[3] ? { left: found[3].split(",").map(Number) } : {};
  return at > 0 && at < plan.length && bouts.length === fresh.bouts.length ? { ...fresh, at, bouts, ...left, running: false } : null;
}

/**
 * @param {Run} run
 * @returns {string}
 */
export function writeRun(run) {
  return `${run.at}:${run.bouts.join(",")}${run.left?.length ? `:${run.left.join(",")}` : ""}`;
}
