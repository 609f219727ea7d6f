/**
 * Finds exercises: every word of the query must begin a word of the exercise; the best come first.
 * Pure: takes an index and a query, returns places in the index.
 */

import { formsOf, splitWords } from "./fold.js";

/** A whole word counts this many times what its beginning counts. */
const WHOLE_WORD = 2;

/**
 * @typedef {object} SearchIndex
 * @property {string[]} languages of the words in it: the page's own, and the library's
 * @property {string[]} slugs
 * @property {string[]} terms sorted by UTF-16 code unit
 * @property {number[][]} hits for each term: exercise, weight, exercise, weight …
 */

/**
 * The exercises found, best first, as places in `index.slugs`; null where the query holds no word.
 * @param {SearchIndex} index
 * @param {string} query
 * @returns {number[] | null}
 */
export function searchExercises(index, query) {
  const words = splitWords(query.slice(0, 200), true);
  if (words.length === 0) return null;
  /** @type {Map<number, number> | undefined} */
  let totals;
  for (const word of words) {
    const scores = scoreWord(index, word);
    /** @type {Map<number, number>} */
    const both = new Map();
    for (const [exercise, score] of scores) {
      const before = totals ? totals.get(exercise) : 0;
      if (before !== undefined) both.set(exercise, before + score);
    }
    totals = both;
  }
  return Array.from(totals ?? [])
    .sort((one, other) => other[1] - one[1] || one[0] - other[0])
    .map(([exercise]) => exercise);
}

/**
 * @param {SearchIndex} index
 * @param {string} word
 * @returns {Map<number, number>} for each exercise the best score of every form of one word, added up
 */
function scoreWord(index, word) {
  /** @type {Map<number, number>} */
  const total = new Map();
  for (const form of new Set(index.languages.flatMap((language) => formsOf(word, language)))) {
    /** @type {Map<number, number>} */
    const best = new Map();
    for (let at = lowerBound(index.terms, form); at < index.terms.length && index.terms[at].startsWith(form); at += 1) {
      const times = index.terms[at] === form ? WHOLE_WORD : 1;
      const hits = index.hits[at];
      for (let hit = 0; hit < hits.length; hit += 2) {
        best.set(hits[hit], Math.max(best.get(hits[hit]) ?? 0, hits[hit + 1] * times));
      }
    }
    for (const [exercise, score] of best) total.set(exercise, (total.get(exercise) ?? 0) + score);
  }
  return total;
}

/**
 * @param {string[]} terms
 * @param {string} start
 * @returns {number} the first place whose term is not before `start`
 */
function lowerBound(terms, start) {
  let low = 0;
  let high = terms.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (terms[middle] < start) low = middle + 1;
    else high = middle;
  }
  return low;
}
