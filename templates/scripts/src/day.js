/** Days as 2026-11-30, as a page compares them. */

/** The day here. @returns {string} */
export function today() {
  const now = new Date();
  return new Date(now.getTime() - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
}

/**
 * Whether a last day is past; one that is not known is not.
 * @param {string | undefined} until
 * @returns {boolean}
 */
export function isOver(until) {
  return Boolean(until) && String(until) < today();
}
