/** A class under way: which part, how far in it.  Pure: each change gives a new state. */

/**
 * @typedef {{kind: string, seconds: number, says: string, round: string, shows: string, next: string, turn: boolean}} Part
 * @typedef {{at: number, elapsed: number}} Run  `elapsed` in milliseconds; `at` is past the last part when all is over
 */

/** Milliseconds in which going back leads to the part before; later it leads to the beginning of the present one. */
const EARLY = 3000;

/**
 * Lets time pass; as many parts end as it is long, so a screen that slept shows what it is time for.
 * @param {Run} run
 * @param {Part[]} parts
 * @param {number} passed milliseconds
 * @returns {Run}
 */
export function passTime(run, parts, passed) {
  let { at, elapsed } = run;
  elapsed += Math.max(0, passed);
  while (at < parts.length && elapsed >= parts[at].seconds * 1000) elapsed -= parts[at++].seconds * 1000;
  return { at, elapsed: at < parts.length ? elapsed : 0 };
}

/**
 * @param {Run} run
 * @param {Part[]} parts
 * @returns {Run}
 */
export function skipPart(run, parts) {
  return { at: Math.min(run.at + 1, parts.length), elapsed: 0 };
}

/**
 * @param {Run} run
 * @returns {Run}
 */
export function goBack(run) {
  return { at: run.elapsed > EARLY ? run.at : Math.max(0, run.at - 1), elapsed: 0 };
}

/**
 * Whole seconds that are left, the last one until it is over.
 * @param {Run} run
 * @param {Part[]} parts
 * @returns {number}
 */
export function secondsLeft(run, parts) {
  return run.at < parts.length ? Math.ceil((parts[run.at].seconds * 1000 - run.elapsed) / 1000) : 0;
}

/** Seconds of a part that are counted aloud at its end. */
const COUNTED = 3;

/**
 * What is to be heard between two states.
 * @param {Run} before
 * @param {Run} now
 * @param {Part[]} parts
 * @returns {import("./phone/cues.js").Cue | null}
 */
export function cueBetween(before, now, parts) {
  if (now.at !== before.at) return now.at >= parts.length ? "end" : parts[now.at].kind === "work" ? "go" : "turn";
  if (now.at >= parts.length) return null;
  const [then, left] = [secondsLeft(before, parts), secondsLeft(now, parts)];
  const half = parts[now.at].seconds * 500;
  if (parts[now.at].turn && before.elapsed < half && now.elapsed >= half) return "turn";
  return left < then && left <= COUNTED ? "count" : null;
}
