/**
 * What the rules of the conditions that are ticked say of exercises.  Pure; the data are written by
 * handouts/bundle/condition_data.py.  Nothing here goes into a draft, a code, the chart or a store: what a patient has stays on the screen.
 */

/** @typedef {import("./book.js").Book} Book */
/** @typedef {{says: string, source?: string, found: [string, string[]][]}} ConditionRule  `found`: why it touches which exercises, by code; `source` where it is not the condition's. */
/** @typedef {{slug: string, name: string, asks: string, source: string, rules: ConditionRule[]}} Condition */
/** @typedef {{says: string, source: string, touches: {code: string, by: string[]}[]}} RuleTouches  A rule with the exercises that it touches, in the order in which they were asked about. */
/** @typedef {{condition: Condition, rules: RuleTouches[], others: string[]}} Result  `others`: exercises of the library that it touches beside those asked about. */

/**
 * What a condition says of some exercises.
 * @param {Condition} condition
 * @param {string[]} codes
 * @returns {Result}
 */
function resultOf(condition, codes) {
  const rules = condition.rules.map(({ says, source, found }) => {
    const touches = codes.flatMap((code) => {
      const by = found.flatMap(([why, those]) => (those.includes(code) ? [why] : []));
      return by.length ? [{ code, by }] : [];
    });
    return { says, source: source ?? condition.source, touches };
  });
  const all = new Set(condition.rules.flatMap(({ found }) => found.flatMap(([, those]) => those)));
  return { condition, rules: rules.filter(({ touches }) => touches.length), others: [...all].filter((code) => !codes.includes(code)) };
}

/**
 * What the conditions that are ticked say of some exercises, in the order of the library; each is there, also one that says nothing.
 * @param {string[]} ticked  slugs
 * @param {string[]} codes
 * @param {Pick<Book, "conditions">} book
 * @returns {Result[]}
 */
export function findTouched(ticked, codes, book) {
  return book.conditions.filter(({ slug }) => ticked.includes(slug)).map((condition) => resultOf(condition, codes));
}

/**
 * The names of the conditions that are ticked and touch an exercise.
 * @param {string} code
 * @param {string[]} ticked
 * @param {Pick<Book, "conditions">} book
 * @returns {string[]}
 */
export function touching(code, ticked, book) {
  return findTouched(ticked, [code], book).flatMap(({ condition, rules }) => (rules.length ? [condition.name] : []));
}
