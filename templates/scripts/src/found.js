/**
 * The search of a page: loads the slices of the index that a query looks at, from the site or from a folder, and keeps
 * them while the page is open.
 */

import { loadScript } from "./phone/load.js";
import { searchExercises, slicesFor } from "./search.js";

const handed = /** @type {any} */ (globalThis);
/** @type {import("./search.js").SearchIndex} */
const searchIndex = handed.handoutsIndex;

/** @returns {import("./search.js").Slices} */
function slices() {
  return handed.handoutsSlices ?? {};
}

/**
 * @param {string} query
 * @returns {number[]} the slices that it looks at and that are not there yet
 */
function missingFor(query) {
  return slicesFor(searchIndex, query).filter((at) => !Object.hasOwn(slices(), searchIndex.starts[at]));
}

/**
 * @param {string} query
 * @returns {boolean} whether it can be searched for at once
 */
export function isReady(query) {
  return missingFor(query).length === 0;
}

/**
 * @param {string} query
 * @returns {Promise<boolean>} whether it can be searched for now
 */
export async function makeReady(query) {
  await Promise.all(missingFor(query).map((at) => loadScript(`../../${searchIndex.files[at]}`)));
  return isReady(query);
}

/**
 * @param {string} query  that is ready
 * @returns {number[] | null} the exercises found, best first, as places in the order of the page; null where it holds no word
 */
export function search(query) {
  return searchExercises(searchIndex, slices(), query);
}
