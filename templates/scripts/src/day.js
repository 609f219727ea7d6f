/** Days as 2026-11-30: today, whether one is past, and one in words. */

/**
 * The day of a moment where the phone is.
 * @param {Date} moment
 * @returns {string}
 */
export function dayOf(moment) {
  if (Number.isNaN(moment.getTime())) return "";
  const two = (/** @type {number} */ value) => String(value).padStart(2, "0");
  return `${String(moment.getFullYear()).padStart(4, "0")}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}`;
}

/** The day here. @returns {string} */
export function today() {
  return dayOf(new Date());
}

/**
 * Whether a last day is past; one that is not known is not.
 * @param {string | undefined} until
 * @returns {boolean}
 */
export function isPast(until) {
  return Boolean(until) && String(until) < today();
}

/**
 * A day such as 2026-09-14 in the reader's language, with the digits of the page.
 * @param {string} day
 * @param {string} language
 * @param {Intl.DateTimeFormatOptions} options
 * @returns {string}
 */
export function sayDay(day, language, options) {
  const [year, month, date] = day.split("-").map(Number);
  const format = new Intl.DateTimeFormat(language, { calendar: "gregory", numberingSystem: "latn", ...options });
  return format.format(new Date(year, month - 1, date, 12));
}
