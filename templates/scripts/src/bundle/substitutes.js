/** What is taken in place of things that are missing at home: the twin of handouts/dose/substitutes.py.  Pure. */

/** @typedef {{mark: string, thing: string, take: string, line: string, counts?: boolean, codes?: string[]}} Substitute
 * `line` says it; `counts`: it has numbers, which may differ from the dose; `codes`: where it serves, where not in each exercise. */
/** @typedef {{substitutes?: string[]}} Chosen  Marks. */

/**
 * What is taken in place of things, in the order of the library.
 * @param {Chosen} pick
 * @param {Substitute[]} all
 * @returns {Substitute[]}
 */
export function substitutesOf({ substitutes = [] }, all) {
  return substitutes.length ? all.filter(({ mark }) => substitutes.includes(mark)) : [];
}

/**
 * What an exercise needs: what is taken, and not what is missing.
 * @param {string[]} equipment
 * @param {Chosen} pick
 * @param {Substitute[]} all
 * @returns {string[]}
 */
export function thingsOf(equipment, pick, all) {
  const chosen = substitutesOf(pick, all);
  return [...new Set(equipment.map((slug) => chosen.find(({ thing }) => thing === slug)?.take ?? slug))];
}

/**
 * A sentence or two for each, and where they may differ from the dose, which of both counts.
 * @param {Chosen} pick
 * @param {import("./code.js").Dose} dose
 * @param {Substitute[]} all
 * @param {import("./speech.js").Speech} speech
 * @returns {string[]}
 */
export function saySubstitutes(pick, dose, all, speech) {
  const chosen = substitutesOf(pick, all);
  const counts = chosen.length > 0 && (dose.band !== undefined || chosen.some((one) => one.counts));
  return [...chosen.map(({ line }) => line), ...(counts ? [speech.say("dose.instead_counts")] : [])];
}
