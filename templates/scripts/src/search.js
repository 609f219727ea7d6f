/**
 * Finds exercises: every word of the query must begin a word of the exercise, save those that may be passed over; the best
 * come first. A word that begins none is taken for words that differ by one letter; where not all words fit, the closest.
 * Pure: takes an index, its slices and a query, returns places in the order of the page.
 */

import { formsOf, splitWords } from "./fold.js";

/** A whole word counts this many times what its beginning counts; handouts/site/search_slices.py adds up alike. */
const WHOLE_WORD = 2;
/** By how much less the word as typed counts beside its best form: below any difference of weights. */
const AS_TYPED = 128;
/** Behind a beginning whose words are added up already. */
const SUMMED = "*";
/** Shorter words are not taken for others. */
const SHORTEST_MISSPELT = 4;

/**
 * @typedef {object} SearchIndex
 * @property {string[]} languages of the words in it: the page's own, and the library's
 * @property {string[]} passed words that may be passed over, in all their forms
 * @property {string[][]} signs the words of each sign at which to stop
 * @property {string} words the path of all words; none where they are in the one slice
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
 * @param {SearchIndex} index
 * @param {string} query
 * @returns {string[]} its words without those that are passed over; all where there is no other
 */
function wordsOf(index, query) {
  const words = Array.from(new Set(splitWords(query.slice(0, 200), true)));
  const asked = words.filter((word) => !index.passed.includes(word));
  return asked.length ? asked : words;
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
  const forms = wordsOf(index, query).flatMap((word) => Array.from(formsIn(index, word)));
  return Array.from(new Set(forms.map((form) => sliceOf(index, form)))).filter((at) => at >= 0);
}

/**
 * What must be there before a query can be searched for, and is not. A word that finds nothing asks for all words, then
 * for the slices of those that are like it.
 * @param {SearchIndex} index
 * @param {Slices} slices
 * @param {string[] | undefined} terms
 * @param {string} query
 * @returns {{slices: number[], terms: boolean}}
 */
export function missingFor(index, slices, terms, query) {
  const lacks = (/** @type {number[]} */ wanted) => wanted.filter((at) => !Object.hasOwn(slices, index.starts[at]));
  const first = lacks(slicesFor(index, query));
  if (first.length) return { slices: first, terms: false };
  const unknown = wordsOf(index, query).filter((word) => scoreForms(index, slices, formsIn(index, word)).size === 0);
  if (!unknown.length) return { slices: [], terms: false };
  const all = termsOf(index, slices, terms);
  if (!all) return { slices: [], terms: true };
  const alike = unknown.flatMap((word) => similarTerms(index, all, word)).map((term) => sliceOf(index, term));
  return { slices: lacks(Array.from(new Set(alike))), terms: false };
}

/**
 * @param {SearchIndex} index
 * @param {Slices} slices
 * @param {string[] | undefined} terms
 * @returns {string[] | undefined} every word of the index, where it is there
 */
function termsOf(index, slices, terms) {
  return terms ?? (index.words ? undefined : slices[index.starts[0]]?.terms);
}

/**
 * @typedef {object} Found
 * @property {number[]} fitting those that all words find, best first
 * @property {number[]} close where none fits, those that the most words find, best first
 * @property {string[]} unknown the words that find nothing at all
 * @property {boolean} isSign whether it holds all words of a sign at which to stop
 * @property {string[]} replaced the words that find nothing, and in whose place words like them were taken
 */

/**
 * What is found, as places in the order of the page; null where the query holds no word.
 * Whatever `missingFor` names must be there.
 * @param {SearchIndex} index
 * @param {Slices} slices
 * @param {string[] | undefined} terms  every word of the index, where they are not all in one slice
 * @param {string} query
 * @returns {Found | null}
 */
export function searchExercises(index, slices, terms, query) {
  const words = wordsOf(index, query);
  if (words.length === 0) return null;
  /** @type {string[]} */
  const unknown = [];
  /** @type {string[]} */
  const replaced = [];
  /** @type {Map<number, {count: number, score: number}>} */
  const totals = new Map();
  for (const word of words) {
    let scores = scoreWord(index, slices, word);
    if (scores.size === 0) {
      scores = scoreForms(index, slices, similarTerms(index, termsOf(index, slices, terms) ?? [], word));
      (scores.size ? replaced : unknown).push(word);
    }
    for (const [exercise, score] of scores) {
      const before = totals.get(exercise) ?? { count: 0, score: 0 };
      totals.set(exercise, { count: before.count + 1, score: before.score + score });
    }
  }
  const ranked = Array.from(totals).sort(([one, its], [other, others]) => others.count - its.count || others.score - its.score || one - other);
  const fitting = ranked.filter(([, { count }]) => count === words.length).map(([exercise]) => exercise);
  const close = fitting.length ? [] : ranked.map(([exercise]) => exercise);
  return { fitting, close, unknown, replaced, isSign: holdsSign(index, query) };
}

/**
 * @param {SearchIndex} index
 * @param {string} query
 * @returns {boolean} whether it holds all words of a sign, in any of their forms and any order
 */
function holdsSign(index, query) {
  const held = new Set(splitWords(query.slice(0, 200), true).flatMap((word) => Array.from(formsIn(index, word))));
  return index.signs.some((sign) => sign.length > 0 && sign.every((word) => Array.from(formsIn(index, word)).some((form) => held.has(form))));
}

/**
 * @param {SearchIndex} index
 * @param {string[]} terms
 * @param {string} word
 * @returns {string[]} the words that differ from it by one letter: one more, one less, another one, or two that changed places
 */
function similarTerms(index, terms, word) {
  for (const form of formsIn(index, word)) {
    if (form.length < SHORTEST_MISSPELT) continue;
    const alike = terms.filter((term) => !term.endsWith(SUMMED) && differsByOne(term, form));
    if (alike.length) return alike;
  }
  return [];
}

/**
 * @param {string} one
 * @param {string} other
 * @returns {boolean}
 */
export function differsByOne(one, other) {
  const longer = Math.abs(one.length - other.length);
  if (longer > 1 || one === other) return false;
  let start = 0;
  while (start < one.length && one[start] === other[start]) start += 1;
  if (longer) {
    const [short, long] = one.length < other.length ? [one, other] : [other, one];
    return short.slice(start) === long.slice(start + 1);
  }
  const after = one.slice(start + 1) === other.slice(start + 1);
  return after || (one[start] === other[start + 1] && one[start + 1] === other[start] && one.slice(start + 2) === other.slice(start + 2));
}

/**
 * @param {SearchIndex} index
 * @param {Slices} slices
 * @param {string} word
 * @returns {Map<number, number>} for each exercise the best score of one of its forms; of equal ones that with the word as typed comes first
 */
function scoreWord(index, slices, word) {
  const total = scoreForms(index, slices, formsIn(index, word));
  for (const [exercise, score] of scoreForms(index, slices, [word])) total.set(exercise, (total.get(exercise) ?? 0) + score / AS_TYPED);
  return total;
}

/**
 * @param {SearchIndex} index
 * @param {Slices} slices
 * @param {Iterable<string>} forms
 * @returns {Map<number, number>} for each exercise the best score of words that begin as one of these forms
 */
function scoreForms(index, slices, forms) {
  /** @type {Map<number, number>} */
  const best = new Map();
  for (const form of forms) {
    const at = sliceOf(index, form);
    if (at < 0) continue;
    for (const [exercise, score] of scoreForm(slices[index.starts[at]], form)) best.set(exercise, Math.max(best.get(exercise) ?? 0, score));
  }
  return best;
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
