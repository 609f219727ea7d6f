/**
 * Weights: kept exactly as they were written, in kilograms or in pounds, and shown in the clinic's unit: the twin of
 * handouts/dose/weight.py.
 */

import { roundEven } from "./round.js";

/** A hundredth of a pound, in ten-billionths of a kilogram. */
const POUND_IN_TEN_BILLIONTHS = 45_359_237;
const TEN_BILLION = 10 ** 10;
/** Kilograms, or pounds, to which a weight that was written in the other unit is shown. */
const SHOWN_STEP = 0.5;

/**
 * Kilograms of a number of hundredths of a kilogram, or of a pound.
 * @param {number} hundredths
 * @param {boolean} inPounds
 * @returns {number}
 */
export function weightOf(hundredths, inPounds) {
  return inPounds ? (hundredths * POUND_IN_TEN_BILLIONTHS) / TEN_BILLION : hundredths / 100;
}

/**
 * How many hundredths of a kilogram, or (then with true) of a pound; null for what is a number of neither.
 * @param {number} kilograms
 * @returns {[number, boolean] | null}
 */
export function hundredthsOf(kilograms) {
  /** @type {[number, boolean][]} */
  const ways = [
    [Math.round(kilograms * 100), false],
    [Math.round((kilograms * TEN_BILLION) / POUND_IN_TEN_BILLIONTHS), true],
  ];
  return ways.find(([hundredths, inPounds]) => weightOf(hundredths, inPounds) === kilograms) ?? null;
}

/**
 * A weight in the clinic's unit: as it was written where that is the unit, else to the hundredth.
 * @param {number} kilograms
 * @param {boolean} inPounds
 * @returns {number}
 */
export function exactWeight(kilograms, inPounds) {
  return writtenIn(kilograms, inPounds) ?? roundEven(converted(kilograms, inPounds) * 100) / 100;
}

/**
 * A weight in the clinic's unit as readers see it: as it was written where that is the unit, else in whole steps.
 * @param {number} kilograms
 * @param {boolean} inPounds
 * @returns {number}
 */
export function shownWeight(kilograms, inPounds) {
  const number = converted(kilograms, inPounds);
  const other = number >= SHOWN_STEP ? roundEven(number / SHOWN_STEP) * SHOWN_STEP : roundEven(number * 100) / 100;
  return writtenIn(kilograms, inPounds) ?? other;
}

/**
 * A range of weights in the clinic's unit; what was written in the other unit is narrowed to whole steps within it.
 * @param {number} low
 * @param {number} high
 * @param {boolean} inPounds
 * @returns {[number, number]}
 */
export function shownSpan(low, high, inPounds) {
  const first = writtenIn(low, inPounds) ?? Math.ceil(converted(low, inPounds) / SHOWN_STEP) * SHOWN_STEP;
  const last = writtenIn(high, inPounds) ?? Math.floor(converted(high, inPounds) / SHOWN_STEP) * SHOWN_STEP;
  return first <= last ? [first, last] : [exactWeight(low, inPounds), exactWeight(high, inPounds)];
}

/**
 * Kilograms of a number that was typed in the clinic's unit; NaN for more than hundredths.
 * @param {number} number
 * @param {boolean} inPounds
 * @returns {number}
 */
export function typedWeight(number, inPounds) {
  const hundredths = Math.round(number * 100);
  return hundredths / 100 === number ? weightOf(hundredths, inPounds) : NaN;
}

/**
 * @param {number} kilograms
 * @param {boolean} inPounds
 * @returns {number | null} the number as it was written in this unit
 */
function writtenIn(kilograms, inPounds) {
  const hundredths = roundEven(converted(kilograms, inPounds) * 100);
  return weightOf(hundredths, inPounds) === kilograms ? hundredths / 100 : null;
}

/**
 * @param {number} kilograms
 * @param {boolean} inPounds
 * @returns {number}
 */
function converted(kilograms, inPounds) {
  return inPounds ? (kilograms * TEN_BILLION) / POUND_IN_TEN_BILLIONTHS / 100 : kilograms;
}
