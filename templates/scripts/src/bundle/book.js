/**
 * What the clinician's page knows of the library: the catalogue of codes with titles, neighbours, cautions and
 * limits.  Written by handouts/bundle/page_data.py; here are its shape and small questions to it.
 */

/**
 * @typedef {import("./code.js").Entry & {title: string, picture: string, mirror?: string, page: string, stamp: string, overdue: string, position: string,
 *   equipment: string[], easier: [string, string][], harder: [string, string][], before: string[], after: string[], step: string, ask: string[], stop: string[], care: string[], reviewed: [string, string],
 *   criteria: import("./criteria.js").Criterion[], whole: boolean}} BookEntry
 * `mirror` is the side that the picture shows only mirrored.  Neighbours by code; `before` holds all that comes before it, nearest first; `ask`, `stop` and `care` name cautions; `reviewed` is a
 * day and the line that says it; `whole`: the condition for the next exercise is made of the `criteria`; `overdue` is a line where that review is over; `next` is the clinic's rule for the next dose; `order` holds cautions by kind as sheets show them, `urgent` those with the
 * emergency number; `sourced` is the language in which sources stand; `handed`: by code title and address of what can be handed over; `growth` is the bound in percent a week.
 * @typedef {{name: string, found: Record<string, string>, named: Record<string, string>}} LimitPhase  For each code why it reaches past the limit; `named`: where a
 * side is named and that is said in other words.
 * @typedef {{slug: string, name: string, says: string, source: string, phases: LimitPhase[]}} Limit
 * @typedef {{title: string, group: "bundle" | "tier", weeks: number, picks: import("./code.js").Pick[], origin?: import("./code.js").Origin, cue?: string, roundRest?: number, given?: string[]}} Start
 * @typedef {Omit<import("./code.js").Catalogue, "exercises"> & {exercises: Record<string, BookEntry>, language: string, sourced: string,
 *   terms: {equipment: Record<string, string>, bands: Record<string, string>, positions: Record<string, string>, paces: Record<string, string>, occasions: Record<string, string>}, origins: import("./steps.js").Origins, cautions: Record<string, {when: string, do: string}>,
 *   clinic: {name: string, site: string, invented: boolean, locations: {slug: string, name: string}[], bounds: number[], pain: string, effort?: string, next?: {after: number, steps: Record<string, number>}},
 *   policy: import("./sums.js").Policy, version: string, tongues: {tag: string, name: string, unreviewed: boolean, stamps: Record<string, string>, lacks: string[], lost: string[]}[],
 *   growth?: number, papers: string[], sizes: string[], starts: Start[], limits: Limit[], conditions: import("./conditions.js").Condition[], floor: string[], substitutes: import("./substitutes.js").Substitute[], handed: Record<string, [string, string]>, order: Record<string, string[]>, urgent: string[], words: import("./speech.js").Words}} Book
 */

// Of a tongue, `lost` names what is not published in it as KIND/SLUG of a possible origin, and `stamps` holds the version of each exercise that is not the same version in all languages.

import { changeDose } from "./code.js";
import { doseNames } from "./dose_words.js";
import { thingsOf } from "./substitutes.js";
import { addUpSession } from "./sums.js";

/** @typedef {import("./code.js").Pick} Pick */

/**
 * Whether a language has what a bundle was begun from, or the library has it in none: its cautions go with it.
 * @param {import("./code.js").Bundle} bundle
 * @param {{lost: string[]} | undefined} tongue
 * @returns {boolean}
 */
export function hasOrigin({ origin }, tongue) {
  return !origin || !tongue?.lost.includes(`${origin.kind}/${origin.slug}`);
}

/**
 * The version of an exercise as sheets in a language carry it.
 * @param {string} code
 * @param {string} language
 * @param {Book} book
 * @returns {string}
 */
export function stampIn(code, language, book) {
  return book.tongues.find(({ tag }) => tag === language)?.stamps[code] ?? book.exercises[code].stamp;
}

/**
 * The whole dose of a pick.
 * @param {Pick} pick
 * @param {Book} book
 * @returns {import("./code.js").Dose}
 */
export function wholeDose(pick, book) {
  return changeDose(pickedEntry(pick, book).dose, pick.change);
}

/**
 * The entry of a pick, with the former dose of the library that it stands on in place of the present one.
 * @param {Pick} pick
 * @param {Book} book
 * @returns {BookEntry}
 */
export function pickedEntry(pick, book) {
  const entry = book.exercises[pick.code];
  return pick.base ? { ...entry, dose: pick.base } : entry;
}

/**
 * The names of a dose.
 * @param {import("./code.js").Dose} dose
 * @param {Book} book
 * @returns {import("./dose_words.js").DoseNames}
 */
export function namesOf(dose, book) {
  return doseNames(dose, book.terms);
}

/**
 * What a session of some picks adds up to.
 * @param {Pick[]} picks
 * @param {Book} book
 * @param {number} [rest]  after each round
 * @returns {import("./sums.js").SessionTotals}
 */
export function totalsOf(picks, book, rest = 0) {
  const rows = picks.map((pick) => {
    const { position, equipment } = book.exercises[pick.code];
    return { dose: wholeDose(pick, book), position, equipment: thingsOf(equipment, pick, book.substitutes), part: pick.part };
  });
  return addUpSession(rows, book.policy, rest);
}
