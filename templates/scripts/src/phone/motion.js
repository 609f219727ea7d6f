/**
 * A figure's movement between its pictures: maps and outlines at any moment, from the keys that the figure engine wrote
 * (handouts/figure/animation.py).  Pure: numbers in, path texts out.
 */

/**
 * @typedef {[number, number, number[][]] | [number, number, string, number[][], number[][]?]} Piece
 * A range of marks of the end picture, and maps to each earlier key; or a class, the outline with its steps, and maps.
 * @typedef {{k: number, p: Piece[]}} Motion
 */

const STILL = [1, 0, 0, 1, 0, 0];

/** Seconds there, held, back, paused, where the dose has no tempo: only to show the movement. */
export const SHOWN_BEAT = [2, 1, 2, 1];

/**
 * How far the movement is after some seconds of a beat.
 * @param {number[]} beat seconds there, held, back, paused
 * @param {number} seconds
 * @returns {number} 0 at the start, 1 at the end
 */
export function shareAt([go, hold, back], seconds) {
  if (seconds < go) return seconds / go;
  if (seconds < go + hold) return 1;
  return Math.max(0, 1 - (seconds - go - hold) / (back || 1));
}

/**
 * Values at a share of the way, by a cubic through evenly spaced keys (Catmull-Rom).
 * @param {number[][]} keys
 * @param {number} share 0 at the first key, 1 at the last
 * @returns {number[]}
 */
export function between(keys, share) {
  const place = Math.min(1, Math.max(0, share)) * (keys.length - 1);
  const at = Math.min(keys.length - 2, Math.floor(place));
  const t = place - at;
  const [p, a, b, n] = [keys[Math.max(0, at - 1)], keys[at], keys[at + 1], keys[Math.min(keys.length - 1, at + 2)]];
  return a.map((one, i) => one + 0.5 * t * (b[i] - p[i] + t * (2 * p[i] - 5 * one + 4 * b[i] - n[i] + t * (3 * (one - b[i]) + n[i] - p[i]))));
}

/**
 * The map of a piece at a share of the way; the last key is the end picture itself.
 * @param {number[][]} maps
 * @param {number} share
 * @returns {string}
 */
export function mapAt(maps, share) {
  const rounded = between([...maps, STILL], share).map((value, at) => (at < 4 ? value.toFixed(4) : value.toFixed(1)));
  return `matrix(${rounded.join(" ")})`;
}

/**
 * The outline of a piece at a share of the way, as a closed smooth path.
 * @param {number[][]} outline points at the end as x, y, ..., then what to add for each earlier key
 * @param {number} share
 * @returns {string}
 */
export function outlineAt([end, ...steps], share) {
  const shift = between([...steps, end.map(() => 0)], share);
  const points = end.map((value, at) => value + shift[at]);
  const count = points.length / 2;
  const x = (/** @type {number} */ at) => points[((at + count) % count) * 2];
  const y = (/** @type {number} */ at) => points[((at + count) % count) * 2 + 1];
  let path = `M${x(0).toFixed(1)} ${y(0).toFixed(1)}`;
  for (let at = 0; at < count; at += 1) {
    const curve = [
      x(at) + (x(at + 1) - x(at - 1)) / 6, y(at) + (y(at + 1) - y(at - 1)) / 6,
      x(at + 1) - (x(at + 2) - x(at)) / 6, y(at + 1) - (y(at + 2) - y(at)) / 6, x(at + 1), y(at + 1),
    ];
    path += `C${curve.map((value) => value.toFixed(1)).join(" ")}`;
  }
  return `${path}z`;
}
