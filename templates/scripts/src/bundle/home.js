/**
 * What serves where something is missing at home.  Pure; the data are written by handouts/bundle/page_data.py.  What is missing is no
 * part of a draft, a code, the chart or a store; what is taken in its place is a part of the pick, and another exercise is a pick like any other.
 */

import { lookUp } from "./code.js";
import { replacePick } from "./draft.js";
import { originOf, placeOf } from "./steps.js";
import { thingsOf } from "./substitutes.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./draft.js").Draft} Draft */
/** @typedef {{things: string[], floor: boolean}} Missing  Things that the home lacks, and whether the patient cannot get to the floor. */
/** @typedef {import("./substitutes.js").Substitute} Substitute */
/** @typedef {{code: string, things: string[], floor: boolean, instead: Substitute[], target: string}} HomeFix
 * What a pick needs that is missing; `instead`: what serves for each of the things; `target`: the exercise that can take its place; neither where nothing fits. */

/**
 * What an exercise needs that is missing.
 * @param {{code: string, substitutes?: string[]}} pick
 * @param {Missing} missing
 * @param {Book} book
 * @returns {{things: string[], floor: boolean}}
 */
function needsOf(pick, missing, book) {
  const { equipment, position } = book.exercises[pick.code];
  return { things: thingsOf(equipment, pick, book.substitutes).filter((slug) => missing.things.includes(slug)), floor: missing.floor && book.floor.includes(position) };
}

/**
 * The first substitute of a thing that is there and serves in an exercise.
 * @param {string} thing
 * @param {string} code
 * @param {Missing} missing
 * @param {Book} book
 * @returns {Substitute | undefined}
 */
function insteadOf(thing, code, missing, book) {
  return book.substitutes.find((one) => one.thing === thing && !missing.things.includes(one.take) && (one.codes?.includes(code) ?? true));
}

/**
 * The nearest easier or harder exercise of the same step that needs nothing that is missing, the easier first; empty where there is none.
 * @param {string} code
 * @param {Draft} draft
 * @param {Missing} missing
 * @param {Book} book
 * @returns {string}
 */
function nearestWithin(code, draft, missing, book) {
  const picked = draft.bundle.picks.map((pick) => pick.code);
  const own = placeOf(originOf(draft.bundle), book).programme;
  const steps = (own ? [own] : Object.values(book.origins.programmes)).flatMap((programme) => programme.steps).filter((step) => step.codes.includes(code));
  const queue = [code];
  for (const one of queue) {
    const { easier, harder } = book.exercises[one];
    for (const [next] of [...easier, ...harder]) {
      if (queue.includes(next) || !lookUp(book.exercises, next) || !steps.some((step) => step.codes.includes(next))) continue;
      const needs = needsOf({ code: next }, missing, book);
      if (!picked.includes(next) && !needs.floor && !needs.things.length) return next;
      queue.push(next);
    }
  }
  return "";
}

/**
 * What can be done about each pick that needs something that is missing.  A thing that serves comes before another exercise.
 * @param {Draft} draft
 * @param {Missing} missing
 * @param {Book} book
 * @returns {HomeFix[]}
 */
export function findFixes(draft, missing, book) {
  return draft.bundle.picks.flatMap((pick) => {
    const { code } = pick;
    const needs = needsOf(pick, missing, book);
    if (!needs.floor && !needs.things.length) return [];
    const instead = needs.floor ? [] : needs.things.flatMap((thing) => insteadOf(thing, code, missing, book) ?? []);
    const serves = instead.length === needs.things.length && !needs.floor;
    return [{ code, ...needs, instead: serves ? instead : [], target: serves ? "" : nearestWithin(code, draft, missing, book) }];
  });
}

/**
 * The draft with another exercise in place of each that has one; one exercise takes the place of one only.
 * @param {Draft} draft
 * @param {Missing} missing
 * @param {Book} book
 * @returns {Draft}
 */
export function swapMissing(draft, missing, book) {
  return findFixes(draft, missing, book).reduce((before, { code }) => {
    const fix = findFixes(before, missing, book).find((one) => one.code === code);
    return fix?.target ? replacePick(before, code, fix.target) : before;
  }, draft);
}
