/**
 * Finds exercises: every word of the query must begin a word of the exercise; the best come first.
 * Pure: takes an index, its slices and a query, returns places in the order of the page.
 */

import { formsOf, splitWords } from "./fold.js";

/** A whole word counts this many times what its beginning counts; handouts/site/search_slices.py adds up alike. */
const WHOLE_WORD = 2;
/** Behind a beginning whose words are added up already. */
const SUMMED = "*";

/**
 * @typedef {object} SearchIndex
 * @property {string[]} languages of the words in it: the page's own, and the library's
 * @property {string[]} starts where each slice begins, sorted by UTF-16 code unit
 * @property {string[]} files the path of each slice; none where the only one came with the index
 */

/**
 * @typedef {object} SearchSlice
 * @property {string[]} terms sorted by UTF-16 code unit
 * @property {number[][]} hits for each term a negative weight, the first exercise of that weight, the steps to the next …
 */

/** @typedef {Readonly<Record<string, SearchSlice>>} Slices by where they begin */

/**
 * @param {string} query
 * @returns {string[]}
 */
function wordsOf(query) {
  return splitWords(query.slice(0, 200), true);
}

/**
 * @param {SearchIndex} index
 * @param {string} word
 * @returns {Set<string>} what a word is looked for as
 */
function formsIn(index, word) {
  return new Set(index.languages.flatMap((language) => formsOf(word, language)));
}

/**
 * @param {SearchIndex} index
 * @param {string} form
 * @returns {number} the only slice that can hold words that begin so; -1 where none can
 */
function sliceOf(index, form) {
  const at = lowerBound(index.starts, form);
  return index.starts[at] === form ? at : at - 1;
}

/**
 * The slices that a query looks at, as places in `index.starts`.
 * @param {SearchIndex} index
 * @param {string} query
 * @returns {number[]}
 */
export function slicesFor(index, query) {
  const forms = wordsOf(query).flatMap((word) => Array.from(formsIn(index, word)));
  return Array.from(new Set(forms.map((form) => sliceOf(index, form)))).filter((at) => at >= 0);
}

/**
 * The exercises found, best first, as places in the order of the page; null where the query holds no word.
 * Every slice that `slicesFor` names must be there.
 * @param {SearchIndex} index
 * @param {Slices} slices
 * @param {string} query
 * @returns {number[] | null}
 */
export function searchExercises(index, slices, query) {
  const words = wordsOf(query);
  if (words.length === 0) return null;
  /** @type {Map<number, number> | undefined} */
  let totals;
  for (const word of words) {
    const scores = scoreWord(index, slices, word);
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
 * @param {Slices} slices
 * @param {string} word
 * @returns {Map<number, number>} for each exercise the best score of every form of one word, added up
 */
function scoreWord(index, slices, word) {
  /** @type {Map<number, number>} */
  const total = new Map();
  for (const form of formsIn(index, word)) {
    const at = sliceOf(index, form);
    if (at < 0) continue;
    for (const [exercise, score] of scoreForm(slices[index.starts[at]], form)) total.set(exercise, (total.get(exercise) ?? 0) + score);
  }
  return total;
}

/**
 * @param {SearchSlice} slice
 * @param {string} form
 * @returns {Map<number, number>} for each exercise the best score of a word that begins so
 */
function scoreForm({ terms, hits }, form) {
  /** @type {Map<number, number>} */
  const best = new Map();
  const summed = lowerBound(terms, form + SUMMED);
  const isSummed = terms[summed] === form + SUMMED;
  for (let at = isSummed ? summed : lowerBound(terms, form); at < terms.length && terms[at].startsWith(form); at += 1) {
    addHits(best, hits[at], terms[at] === form ? WHOLE_WORD : 1);
    if (isSummed) break;
  }
  return best;
}

/**
 * @param {Map<number, number>} best
 * @param {number[]} hits
 * @param {number} times
 */
function addHits(best, hits, times) {
  let score = 0;
  let exercise = 0;
  for (const number of hits) {
    if (number < 0) {
      score = -number * times;
      exercise = 0;
    } else {
      exercise += number;
      best.set(exercise, Math.max(best.get(exercise) ?? 0, score));
    }
  }
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
