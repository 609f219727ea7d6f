/** Two visits of a test of function compared: pure values in, sentences out.  Knows no page and keeps nothing. */

/**
 * @typedef {object} FunctionTest
 * @property {Record<string, string>} sides their names in the page's language: left and right, or result
 * @property {"more" | "less"} better
 * @property {number | null} most the result at which the test ends
 * @property {string} mostShown
 * @property {number | null} error the largest change that may be chance; null where no source gives one
 * @property {string} errorShown
 * @property {number | null} aim least share of the other side, in percent
 * @property {Record<string, string>} value a number with its unit, by the plural that a number takes
 * @property {Record<string, string>} words
 */
/** @typedef {Record<string, number | null>} Results by side; null where nothing is typed */

/** Sums of decimals are rounded to this, so that 7.3 - 4.8 is 2.5. */
const DECIMALS = 6;

/** @param {number} value */
const exact = (value) => Number(value.toFixed(DECIMALS));

/**
 * @param {string} pattern
 * @param {Record<string, string>} values
 */
const fill = (pattern, values) => pattern.replace(/\{([a-z]+)\}/g, (whole, name) => values[name] ?? whole);

/**
 * Share of the other side that the side with the problem reaches, in whole percent, rounded down so that 89.9 is not 90.
 *
 * @param {Results} now
 * @param {string} problem side
 * @returns {number | null}
 */
export function shareOf(now, problem) {
  const own = now[problem];
  const other = now[problem === "left" ? "right" : "left"];
  return own == null || other == null || other === 0 ? null : Math.floor(exact((own / other) * 100));
}

/**
 * What two visits say.
 *
 * @param {FunctionTest} test
 * @param {Results} before
 * @param {Results} now
 * @param {string} problem the side with the problem; empty where none is chosen
 * @param {(value: number) => string} number as the page's language writes it
 * @param {(value: number) => string} plural the form that a number takes
 * @returns {string[]}
 */
export function compareVisits(test, before, now, problem, number, plural) {
  const { words, most, error, aim } = test;
  const typed = [...Object.values(before), ...Object.values(now)];
  if (most !== null && typed.some((value) => value !== null && value > most)) {
    return [fill(words.beyond_end, { value: test.mostShown })];
  }
  const said = [];
  for (const [side, name] of Object.entries(test.sides)) {
    const [first, last] = [before[side], now[side]];
    if (first == null || last == null) continue;
    const change = exact(last - first);
    const size = Math.abs(change);
    if (change === 0) {
      said.push(fill(words.same, { side: name }));
      continue;
    }
    const better = change > 0 === (test.better === "more");
    const line = fill(better ? words.better : words.worse, { side: name, change: fill(test.value[plural(size)] ?? test.value.other, { n: number(size) }) });
    const against = error === null ? "" : fill(size > error ? words.beyond_error : words.within_error, { change: test.errorShown });
    said.push(against ? `${line} ${against}` : line);
  }
  const share = problem ? shareOf(now, problem) : null;
  if (share !== null) {
    const line = fill(words.ratio, { percent: number(share) });
    const against = aim === null ? "" : fill(share >= aim ? words.ratio_reached : words.ratio_missed, { percent: number(aim) });
    said.push(against ? `${line} ${against}` : line);
  }
  return said;
}
