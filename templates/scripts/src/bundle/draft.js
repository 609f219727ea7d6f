/**
 * A bundle in the making: its picks, the limits ticked, the sheet; every change gives a new draft, so that each
 * can be undone.  Pure; the page keeps it.
 */

import { most_given as MOST_GIVEN, most_picks as MOST_PICKS, most_weeks as MOST_WEEKS } from "../../../../handouts/bundle/code.json";
import { pickedEntry, wholeDose } from "./book.js";
import { putInOrder } from "./checks.js";
import { FIELDS, dropUnchanged, lookUp, refuseField, refuseGiven, valueOf } from "./code.js";
import { applyRules, refuseStages } from "./stages.js";
import { orderSession } from "./sums.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./code.js").Bundle} Bundle */
/** @typedef {import("./code.js").Pick} Pick */
/** @typedef {{paper: string, size: string, layout: "page" | "compact", line: boolean, second: string}} Sheet */
/** @typedef {{bundle: Bundle, limits: Record<string, number>, sheet: Sheet}} Draft  `limits`: the phase ticked, by limit. */

const FIRST_WEEKS = 4;
const NAMED_SIDES = ["left", "right"];

/**
 * A draft without picks.
 * @param {Book} book
 * @param {string} location
 * @returns {Draft}
 */
export function emptyDraft(book, location) {
  const known = book.clinic.locations.some((place) => place.slug === location);
  return {
    bundle: { language: book.language, location: known ? location : book.clinic.locations[0].slug, weeks: FIRST_WEEKS, picks: [] },
    limits: {},
    sheet: { paper: book.papers[0], size: book.sizes[0], layout: "compact", line: false, second: "" },
  };
}

/**
 * @param {Draft} draft
 * @param {Pick[]} picks
 * @returns {Draft}
 */
export function withPicks(draft, picks) {
  return { ...draft, bundle: { ...draft.bundle, picks } };
}

/**
 * Adds an exercise at the end; the same draft where it is picked, unknown, or no more fit.
 * @param {Draft} draft
 * @param {string} code
 * @param {Book} book
 * @returns {Draft}
 */
export function addPick(draft, code, book) {
  const { picks } = draft.bundle;
  if (!lookUp(book.exercises, code) || picks.length >= MOST_PICKS || picks.some((pick) => pick.code === code)) return draft;
  return withPicks(draft, [...picks, { code, change: {} }]);
}

/**
 * @param {Draft} draft
 * @param {string} code
 * @returns {Draft}
 */
export function takeOut(draft, code) {
  return withPicks(draft, draft.bundle.picks.filter((pick) => pick.code !== code));
}

/**
 * Moves an exercise up (-1) or down (1).
 * @param {Draft} draft
 * @param {string} code
 * @param {number} step
 * @returns {Draft}
 */
export function shiftPick(draft, code, step) {
  const picks = [...draft.bundle.picks];
  const at = picks.findIndex((pick) => pick.code === code);
  if (at < 0 || !picks[at + step]) return draft;
  [picks[at], picks[at + step]] = [picks[at + step], picks[at]];
  return withPicks(draft, picks);
}

/**
 * Puts an exercise in a place, counted from 0.
 * @param {Draft} draft
 * @param {string} code
 * @param {number} place
 * @returns {Draft}
 */
export function placePick(draft, code, place) {
  const { picks } = draft.bundle;
  const pick = picks.find((one) => one.code === code);
  if (!pick || picks[place] === pick) return draft;
  const others = picks.filter((one) => one !== pick);
  return withPicks(draft, [...others.slice(0, place), pick, ...others.slice(place)]);
}

/**
 * Replaces an exercise by another, in its place and with the library's dose.
 * @param {Draft} draft
 * @param {string} code
 * @param {string} target
 * @returns {Draft}
 */
export function replacePick(draft, code, target) {
  return withPicks(draft, draft.bundle.picks.map((pick) => (pick.code === code ? { code: target, change: {}, ...(pick.part ? { part: pick.part } : {}) } : pick)));
}

/**
 * The draft with a pick changed.
 * @param {Draft} draft
 * @param {string} code
 * @param {(pick: Pick) => Pick} change
 * @returns {Draft}
 */
function withPick(draft, code, change) {
  return withPicks(draft, draft.bundle.picks.map((pick) => (pick.code === code ? change(pick) : pick)));
}

/**
 * Takes something in place of things that are missing at home, or nothing.
 * @param {Draft} draft
 * @param {string} code
 * @param {string[]} marks  of all that is taken there
 * @returns {Draft}
 */
export function setSubstitutes(draft, code, marks) {
  return withPick(draft, code, ({ substitutes: _, ...pick }) => (marks.length ? { ...pick, substitutes: marks } : pick));
}

/**
 * Puts an exercise into a part of the session; the main part where that is empty.
 * @param {Draft} draft
 * @param {string} code
 * @param {string} part
 * @returns {Draft}
 */
export function setPart(draft, code, part) {
  return withPick(draft, code, ({ part: _, ...pick }) => (part ? { ...pick, part } : pick));
}

/**
 * Adds a test or a leaflet to what is handed over, or takes it out; the same draft where no more fit.
 * @param {Draft} draft
 * @param {string} code
 * @param {boolean} isGiven
 * @returns {Draft}
 */
export function setGiven(draft, code, isGiven) {
  const { given: before = [], ...bundle } = draft.bundle;
  const others = before.filter((one) => one !== code);
  const given = isGiven ? [...others, code] : others;
  return given.length > MOST_GIVEN ? draft : { ...draft, bundle: { ...bundle, ...(given.length ? { given } : {}) } };
}

/**
 * The warm-up first and the cool-down last.
 * @param {Pick[]} picks
 * @returns {Pick[]}
 */
function partsInOrder(picks) {
  const rank = (/** @type {Pick} */ { part }) => (part === "warm-up" ? 0 : part === "cool-down" ? 2 : 1);
  return [...picks].sort((one, other) => rank(one) - rank(other));
}

/**
 * Sets one field of a dose; a refusal where it may not be.
 * @param {Draft} draft
 * @param {string} code
 * @param {string} name
 * @param {number | string} value
 * @param {Book} book
 * @returns {Draft | import("./code.js").Refusal}
 */
export function setField(draft, code, name, value, book) {
  const picked = draft.bundle.picks.find((pick) => pick.code === code) ?? { code, change: {} };
  const { dose, range } = pickedEntry(picked, book);
  const refusal = refuseField(code, name, value, dose, range, book);
  if (refusal && value !== valueOf(dose, name)) return refusal;
  const changed = (/** @type {Pick} */ pick) => ({ ...pick, change: inOrder(dropUnchanged({ ...pick.change, [name]: value }, dose)) });
  return withPicks(draft, draft.bundle.picks.map((pick) => (pick.code === code ? changed(pick) : pick)));
}

/**
 * Gives an exercise other stages; a refusal where they may not be.
 * @param {Draft} draft
 * @param {string} code
 * @param {import("./stages.js").Stage[]} stages
 * @param {Book} book
 * @returns {Draft | import("./code.js").Refusal}
 */
export function setStages(draft, code, stages, book) {
  const pick = draft.bundle.picks.find((one) => one.code === code);
  if (!pick) return draft;
  const { stages: _, ...plain } = pick;
  const entry = book.exercises[code];
  const weeks = Math.max(draft.bundle.weeks, ...stages.map(({ week }) => week));
  if (weeks > MOST_WEEKS) return { kind: "out-of-bounds", field: "weeks", value: weeks, low: 1, high: MOST_WEEKS };
  const refused = refuseStages(code, wholeDose(pick, book), stages, weeks, (dose) => refuseGiven(code, dose, pick.base ?? entry.dose, entry, book));
  if (refused) return refused;
  const next = withPicks(draft, draft.bundle.picks.map((one) => (one === pick ? { ...plain, ...(stages.length ? { stages } : {}) } : one)));
  return { ...next, bundle: { ...next.bundle, weeks } };
}

/**
 * The stages that a programme's rule gives, of every exercise of the list.
 * @param {Draft} draft
 * @param {{week: number, add: Record<string, number>}[]} rules
 * @param {Book} book
 * @returns {Draft}
 */
export function acceptRules(draft, rules, book) {
  return draft.bundle.picks.reduce((before, pick) => {
    const own = book.clinic.next ? rules : rules.filter(({ week }) => week);
    const next = setStages(before, pick.code, applyRules(wholeDose(pick, book), own, pickedEntry(pick, book).range), book);
    return "kind" in next ? before : next;
  }, draft);
}

/**
 * Says which side is trained, wherever one is.
 * @param {Draft} draft
 * @param {string} side
 * @param {Book} book
 * @returns {Draft}
 */
export function nameSide(draft, side, book) {
  return draft.bundle.picks.reduce((before, pick) => {
    const next = wholeDose(pick, book).side === "one" ? setField(before, pick.code, "side", side, book) : before;
    return "kind" in next ? before : next;
  }, draft);
}

/**
 * @param {import("./code.js").Change} change
 * @returns {import("./code.js").Change}
 */
function inOrder(change) {
  return Object.fromEntries(FIELDS.filter(({ name }) => Object.hasOwn(change, name)).map(({ name }) => [name, change[name]]));
}

/**
 * The picks in the order with the fewest changes of position.
 * @param {Draft} draft
 * @param {Book} book
 * @returns {Draft}
 */
export function orderPicks(draft, book) {
  const { picks } = draft.bundle;
  const codes = picks.map((pick) => pick.code);
  const earlier = codes.map((code) => book.exercises[code].before.map((other) => codes.indexOf(other)).filter((at) => at >= 0));
  const order = orderSession(codes.map((code) => book.exercises[code].position), earlier);
  return withPicks(draft, partsInOrder(order.map((at) => picks[at])));
}

/**
 * The picks with what each builds on before it.
 * @param {Draft} draft
 * @param {Book} book
 * @returns {Draft}
 */
export function settlePicks(draft, book) {
  const { picks } = draft.bundle;
  const order = putInOrder(picks.map(({ code }) => code), book);
  return withPicks(draft, partsInOrder(order.flatMap((code) => picks.filter((pick) => pick.code === code))));
}

/**
 * Starts from a ready-made bundle or a tier: its picks in place of the present ones.
 * @param {Draft} draft
 * @param {import("./book.js").Start} start
 * @returns {Draft}
 */
export function startFrom(draft, start) {
  const weeks = start.weeks >= 1 && start.weeks <= MOST_WEEKS ? start.weeks : draft.bundle.weeks;
  const { origin, cue, roundRest: _, given: __, ...bundle } = draft.bundle;
  const hung = start.cue ?? cue;
  return { ...draft, bundle: { ...bundle, weeks, picks: start.picks.slice(0, MOST_PICKS), ...(start.origin ? { origin: start.origin } : {}), ...(hung ? { cue: hung } : {}), ...(start.roundRest ? { roundRest: start.roundRest } : {}), ...(start.given ? { given: start.given } : {}) } };
}

/**
 * Why exercises go against the limits ticked, by code.
 * @param {Draft} draft
 * @param {Book} book
 * @returns {Map<string, import("./checks.js").LimitFinding[]>}
 */
export function tickedFindings(draft, book) {
  /** @type {Map<string, import("./checks.js").LimitFinding[]>} */
  const found = new Map();
  const onOne = new Set(draft.bundle.picks.filter((pick) => NAMED_SIDES.includes(wholeDose(pick, book).side)).map(({ code }) => code));
  for (const limit of book.limits) {
    const phase = limit.phases[lookUp(draft.limits, limit.slug) ?? -1];
    for (const [code, each] of Object.entries(phase?.found ?? {})) {
      const text = onOne.has(code) ? (lookUp(phase.named, code) ?? each) : each;
      found.set(code, [...(found.get(code) ?? []), { limit: limit.name, text }]);
    }
  }
  return found;
}
