/**
 * What a clinician should look at before a bundle goes home, in three ranks: what goes against a limit that is ticked, what to
 * ask the patient, and the order, the side, number and minutes.  The chart says the first two, as handouts/bundle/checks.py does too.
 * Where nothing is found, nothing is said.
 */

import { wholeDose } from "./book.js";
import { lookUp } from "./code.js";
import { aboutMinutes } from "./dose_words.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./code.js").Bundle} Bundle */
/** @typedef {import("./speech.js").Speech} Speech */
/** @typedef {{limit: string, text: string}} LimitFinding  The name of a limit that is ticked, and why the exercise goes against it. */
/** @typedef {{code: string, found: LimitFinding[], easier: string}} Against  `easier`: the code of an easier exercise that keeps to the limits ticked; empty where there is none. */
/** @typedef {{slug: string, when: string, codes: string[]}} Ask  A condition of a caution, and the exercises that carry it. */
/** @typedef {{against: Against[], asks: Ask[], early: string[], unsided: string[], isMany: boolean, isLong: boolean}} Findings
 * `early`: what stands before an exercise that it builds on; `unsided`: what trains one side, and nobody said which. */

const SECONDS_IN_MINUTE = 60;

/**
 * Findings about the picks of a bundle.
 * @param {Bundle} bundle
 * @param {Book} book
 * @param {import("./sums.js").SessionTotals} totals
 * @param {Map<string, LimitFinding[]>} ticked  by code, where an exercise goes against a limit that is ticked
 * @returns {Findings}
 */
export function checkPicks(bundle, book, totals, ticked) {
  const codes = bundle.picks.map(({ code }) => code);
  const against = codes.flatMap((code) => {
    const found = ticked.get(code);
    return found ? [{ code, found, easier: easierWithin(code, codes, book, ticked) }] : [];
  });
  /** @type {Map<string, Ask>} */
  const asks = new Map();
  for (const code of codes) {
    for (const slug of book.exercises[code].ask) {
      const known = asks.get(slug) ?? { slug, when: book.cautions[slug].when, codes: [] };
      asks.set(slug, { ...known, codes: [...known.codes, code] });
    }
  }
  const given = orderGiven(bundle, book);
  const early = codes.filter((code, at) => codes.slice(at + 1).some((later) => book.exercises[code].before.includes(later) && !isBefore(code, later, given)));
  const unsided = bundle.picks.filter((pick) => wholeDose(pick, book).side === "one").map(({ code }) => code);
  return { against, asks: [...asks.values()], early, unsided, isMany: codes.length > book.policy.exercises, isLong: totals.seconds > book.policy.minutes * SECONDS_IN_MINUTE };
}

/**
 * The order that the author of a ready-made bundle or of a step gave its exercises: nobody need put that right.
 * @param {Bundle} bundle
 * @param {Book} book
 * @returns {string[]}
 */
function orderGiven({ origin }, book) {
  const start = book.starts.find((one) => origin && one.origin?.kind === origin.kind && one.origin?.slug === origin.slug && one.origin?.step === origin.step);
  return start?.picks.map(({ code }) => code) ?? [];
}

/**
 * @param {string} code
 * @param {string} other
 * @param {string[]} codes
 * @returns {boolean}
 */
function isBefore(code, other, codes) {
  return codes.includes(code) && codes.indexOf(code) < codes.indexOf(other);
}

/**
 * The nearest easier exercise that is not picked and keeps to the limits ticked; empty where there is none.
 * @param {string} code
 * @param {string[]} picked
 * @param {Book} book
 * @param {Map<string, LimitFinding[]>} ticked
 * @returns {string}
 */
function easierWithin(code, picked, book, ticked) {
  const queue = [code];
  for (const one of queue) {
    for (const [easier] of lookUp(book.exercises, one)?.easier ?? []) {
      if (!lookUp(book.exercises, easier) || queue.includes(easier)) continue;
      if (!picked.includes(easier) && !ticked.has(easier)) return easier;
      queue.push(easier);
    }
  }
  return "";
}

/**
 * The picks with what each builds on before it, and else in the order given.  A ring leaves them as they are.
 * @param {string[]} codes
 * @param {Book} book
 * @returns {string[]}
 */
export function putInOrder(codes, book) {
  /** @type {string[]} */
  const done = [];
  while (done.length < codes.length) {
    const left = codes.filter((code) => !done.includes(code));
    const next = left.find((code) => !left.some((other) => book.exercises[code].before.includes(other)));
    if (next === undefined) return codes;
    done.push(next);
  }
  return done;
}

/**
 * What the chart says was pointed out: limits, then what to ask.
 * @param {Findings} findings
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string[]}
 */
export function sayForChart({ against, asks }, book, speech) {
  const title = (/** @type {string} */ code) => book.exercises[code].title;
  const limits = against.flatMap(({ code, found }) => found.map(({ limit, text }) => speech.say("clinician.check_limit", { exercise: title(code), limit, finding: text })));
  return [...new Set([...limits, ...asks.map(({ when, codes }) => speech.say("clinician.check_ask", { exercises: speech.join(codes.map(title)), when }))])];
}

/**
 * The lines of the third rank that have no button: number and minutes.
 * @param {Findings} findings
 * @param {number} count
 * @param {import("./sums.js").SessionTotals} totals
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string[]}
 */
export function saySize({ isMany, isLong }, count, totals, { policy }, speech) {
  const many = isMany ? [speech.count("clinician.check_many", count, { limit: speech.number(policy.exercises) })] : [];
  if (!isLong) return many;
  const limit = speech.count("dose.minutes", policy.minutes);
  return [...many, speech.say("clinician.check_long", { session: aboutMinutes(totals.seconds, speech), limit })];
}
