/** A session under way: which step, how far in it, what was done.  Pure: each change gives a new state. */

/** @typedef {import("./plan.js").Step} Step */
/**
 * @typedef {{at: number, elapsed: number, running: boolean, bouts: number[]}} Run
 * `elapsed` in milliseconds; `bouts` counts by exercise the sets done, each side for itself.
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
  return leaveStep({ ...run, elapsed: over <= MOST_CARRIED ? over : 0 }, step, true);
}

/**
 * Ends the present step by a tap: a set counts as done.
 * @param {Run} run
 * @param {Step[]} plan
 * @returns {Run}
 */
export function finishStep(run, plan) {
  return isOver(run, plan) ? run : leaveStep({ ...run, elapsed: 0, running: true }, plan[run.at], true);
}

/**
 * Leaves the present step out: a set does not count as done.
 * @param {Run} run
 * @param {Step[]} plan
 * @returns {Run}
 */
export function skipStep(run, plan) {
  return isOver(run, plan) ? run : leaveStep({ ...run, elapsed: 0, running: true }, plan[run.at], false);
}

/**
 * @param {Run} run
 * @param {Step} step
 * @param {boolean} done
 * @returns {Run}
 */
function leaveStep(run, step, done) {
  const counts = done && step.kind === "work";
  const bouts = counts ? run.bouts.map((count, exercise) => (exercise === step.exercise ? count + 1 : count)) : run.bouts;
  return { ...run, bouts, at: run.at + 1 };
}

/**
 * To the beginning of the next exercise, or to the end.
 * @param {Run} run
 * @param {Step[]} plan
 * @returns {Run}
 */
export function skipExercise(run, plan) {
  if (isOver(run, plan)) return run;
  const next = plan.findIndex((step, at) => at > run.at && step.kind === "begin");
  return { ...run, at: next < 0 ? plan.length : next, elapsed: 0, running: true };
}

/**
 * Back to the beginning of the step, or, within its first three seconds, of the step before.
 * @param {Run} run
 * @param {Step[]} plan
 * @returns {Run}
 */
export function goBack(run, plan) {
  if (run.elapsed > 3000 || run.at === 0) return { ...run, elapsed: 0 };
  const before = plan[run.at - 1];
  const undone = before.kind === "work";
  const bouts = undone ? run.bouts.map((count, exercise) => (exercise === before.exercise ? Math.max(0, count - 1) : count)) : run.bouts;
  return { ...run, at: run.at - 1, elapsed: 0, bouts };
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
  const found = /^(\d{1,4}):((?:\d{1,3}(?:,|$))+)$/.exec(text);
  if (!found) return null;
  const at = Number(found[1]);
  const bouts = found[2].split(",").map(Number);
  return at > 0 && at < plan.length && bouts.length === fresh.bouts.length ? { ...fresh, at, bouts, running: false } : null;
}

/**
 * @param {Run} run
 * @returns {string}
 */
export function writeRun(run) {
  return `${run.at}:${run.bouts.join(",")}`;
}
