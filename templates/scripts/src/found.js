/**
 * The search of a page: loads the slices of the index that a query looks at, from the site or from a folder, and keeps
 * them while the page is open.
 */

import { loadScript } from "./phone/load.js";
import { missingFor, searchExercises } from "./search.js";

const handed = /** @type {any} */ (globalThis);
/** @type {import("./search.js").SearchIndex} */
const searchIndex = handed.handoutsIndex;

/** @returns {import("./search.js").Slices} */
function slices() {
  return handed.handoutsSlices ?? {};
}

/**
 * @param {string} query
 * @returns {{slices: number[], terms: boolean}} what it looks at and is not there yet
 */
function missing(query) {
  return missingFor(searchIndex, slices(), handed.handoutsTerms, query);
}

/**
 * @param {string} query
 * @returns {boolean} whether it can be searched for at once
 */
export function isReady(query) {
  const lacks = missing(query);
  return !lacks.terms && lacks.slices.length === 0;
}

/**
 * @param {string} query
 * @returns {Promise<boolean>} whether it can be searched for now
 */
export async function makeReady(query) {
  // slices of the words; then, where one finds nothing, all words; then slices of those like it
  for (let round = 0; round < 3 && !isReady(query); round += 1) {
    const lacks = missing(query);
    const paths = [...lacks.slices.map((at) => searchIndex.files[at]), ...(lacks.terms ? [searchIndex.words] : [])];
    await Promise.all(paths.map((path) => loadScript(`../../${path}`)));
  }
  return isReady(query);
}

/**
 * @param {string} query  that is ready
 * @returns {import("./search.js").Found | null} places in the order of the page; null where it holds no word
 */
export function search(query) {
  return searchExercises(searchIndex, slices(), handed.handoutsTerms, query);
}
