/**
 * The next visit: where each exercise can move to, and how two bundles differ, in words.
 */

import { namesOf, wholeDose } from "./book.js";
import { doseParts, joinDoseParts } from "./dose_words.js";
import { sayInstead, sayPartsOf, sayStages } from "./said_stages.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./code.js").Bundle} Bundle */
/** @typedef {import("./code.js").Pick} Pick */
/** @typedef {import("./speech.js").Speech} Speech */

/**
 * The easier and the harder exercises that are not picked already, each with what changes.
 * @param {string} code
 * @param {Book} book
 * @param {string[]} picked
 * @returns {{back: [string, string][], on: [string, string][]}}
 */
export function movesOf(code, book, picked) {
  const { easier, harder } = book.exercises[code];
  const free = (/** @type {[string, string]} */ [other]) => other !== "" && !picked.includes(other);
  return { back: easier.filter(free), on: harder.filter(free) };
}

/**
 * What changed between two bundles, a sentence each.
 * @param {Bundle} before
 * @param {Bundle} after
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string[]}
 */
export function sayDifference(before, after, book, speech) {
  const old = new Map(before.picks.map((pick) => [pick.code, pick]));
  const now = new Map(after.picks.map((pick) => [pick.code, pick]));
  const gone = [...old.keys()].filter((code) => !now.has(code));
  const moved = pairMoves(gone, [...now.keys()].filter((code) => !old.has(code)), book);
  const title = (/** @type {string} */ code) => book.exercises[code].title;
  const lines = [...moved].map(([code, { target, way }]) => {
    const dose = shortDose(/** @type {Pick} */ (now.get(target)), book, speech);
    return speech.say(`clinician.moved_${way}`, { exercise: title(code), other: title(target), dose });
  });
  const arrived = new Set([...moved.values()].map(({ target }) => target));
  for (const code of gone) if (!moved.has(code)) lines.push(speech.say("clinician.taken_out", { exercise: title(code) }));
  for (const [code, pick] of now) {
    const known = old.get(code);
    if (known) lines.push(...sayDoseChange(title(code), known, pick, book, speech), ...sayStageChange(title(code), known, pick, book, speech), ...sayInsteadChange(title(code), known, pick, book, speech));
    else if (!arrived.has(code)) lines.push(speech.say("clinician.added", { exercise: title(code), dose: shortDose(pick, book, speech) }));
  }
  const kept = [...old.keys()].filter((code) => now.has(code));
  const keptNow = [...now.keys()].filter((code) => old.has(code));
  if (kept.some((code, at) => code !== keptNow[at])) lines.push(speech.say("clinician.reordered"));
  lines.push(...sayFrameChange(before, after, book, speech));
  return lines.length ? lines : [speech.say("clinician.nothing_changed")];
}

/**
 * Each exercise taken out in whose place an easier or a harder one was put in.
 * @param {string[]} gone
 * @param {string[]} come
 * @param {Book} book
 * @returns {Map<string, {target: string, way: "on" | "back"}>}
 */
function pairMoves(gone, come, book) {
  /** @type {Map<string, {target: string, way: "on" | "back"}>} */
  const found = new Map();
  let free = come;
  const isEasier = (/** @type {string} */ other, /** @type {string} */ than) => book.exercises[than].easier.some(([each]) => each === other);
  for (const code of gone) {
    const target = free.find((other) => isEasier(code, other) || isEasier(other, code));
    if (target === undefined) continue;
    free = free.filter((other) => other !== target);
    found.set(code, { target, way: isEasier(code, target) ? "on" : "back" });
  }
  return found;
}

/**
 * @param {Pick} pick
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string[]}
 */
function partsOf(pick, book, speech) {
  const dose = wholeDose(pick, book);
  return doseParts(dose, speech, namesOf(dose, book));
}

/**
 * @param {Pick} pick
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string}
 */
function shortDose(pick, book, speech) {
  return joinDoseParts(partsOf(pick, book, speech).slice(0, 2), speech);
}

/**
 * @param {string} exercise
 * @param {Pick} before
 * @param {Pick} after
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string[]}
 */
function sayDoseChange(exercise, before, after, book, speech) {
  const old = partsOf(before, book, speech);
  const now = partsOf(after, book, speech);
  const unlike = old.map((_, at) => at).filter((at) => old[at] !== now[at]);
  if (!unlike.length) return [];
  const [was, is] = [old, now].map((parts) => joinDoseParts(unlike.map((at) => parts[at]), speech) || speech.say("clinician.none"));
  return [speech.say("clinician.dose_changed", { exercise, before: was, after: is })];
}

/**
 * @param {string} exercise
 * @param {Pick} before
 * @param {Pick} after
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string[]}
 */
function sayStageChange(exercise, before, after, book, speech) {
  const [old, now] = [before, after].map((pick) => sayStages(pick, book, speech).join("; "));
  return old === now ? [] : [speech.say("clinician.stages_changed", { exercise, stages: now || speech.say("clinician.none") })];
}

/**
 * @param {string} exercise
 * @param {Pick} before
 * @param {Pick} after
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string[]}
 */
function sayInsteadChange(exercise, before, after, book, speech) {
  const [old, now] = [before, after].map((pick) => sayInstead(pick, book, speech).join(" "));
  return old === now ? [] : [speech.say("clinician.instead_changed", { exercise, now: now || speech.say("clinician.none") })];
}

/**
 * @param {Bundle} before
 * @param {Bundle} after
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string[]}
 */
function sayFrameChange(before, after, book, speech) {
  const lines = [];
  if (before.weeks !== after.weeks) {
    const [was, is] = [before, after].map(({ weeks }) => speech.count("clinician.weeks", weeks));
    lines.push(speech.say("clinician.weeks_changed", { before: was, after: is }));
  }
  const [oldParts, newParts] = [before, after].map((bundle) => sayPartsOf(bundle, book, speech).join(" "));
  if (oldParts !== newParts) lines.push(speech.say("clinician.parts_changed", { now: newParts || speech.say("clinician.none") }));
  const [oldGiven, newGiven] = [before, after].map(({ given = [] }) => speech.join(given.map((code) => book.handed[code][0])));
  if (oldGiven !== newGiven) lines.push(speech.say("clinician.given_changed", { now: newGiven || speech.say("clinician.none") }));
  if (before.language !== after.language) {
    lines.push(speech.say("clinician.language_changed", { before: speech.nameOf(before.language), after: speech.nameOf(after.language) }));
  }
  if (before.location !== after.location) {
    lines.push(speech.say("clinician.location_changed", { before: locationName(before.location, book), after: locationName(after.location, book) }));
  }
  return lines;
}

/**
 * @param {string} slug
 * @param {Book} book
 * @returns {string}
 */
export function locationName(slug, book) {
  return book.clinic.locations.find((place) => place.slug === slug)?.name ?? slug;
}
