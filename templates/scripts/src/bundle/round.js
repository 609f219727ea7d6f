/** Rounding as Python does it. */

/**
 * Rounds a half to the even neighbour, as Python does.
 * @param {number} value
 * @returns {number}
 */
export function roundEven(value) {
  const low = Math.floor(value);
  const part = value - low;
  if (part !== 0.5) return Math.round(value);
  return low % 2 === 0 ? low : low + 1;
}
