/**
 * A dose as a sentence with fields in it: "[3] sets of [10], [each side], [3] days a week".  Gives pieces; the page
 * makes them visible.  Word order and plurals come from the language's own phrases.
 */

import { boundsOf, isUnset, lookUp, sidesAllowed, unpackTempo, valueOf } from "./code.js";
import { doseKind, doseNames, effortLine, isInterval, isOpen, partsBeside, ratePhrase, tempoLine } from "./dose_words.js";
import { exactWeight, shownSpan, shownWeight, typedWeight } from "./weight.js";

/** @typedef {import("./book.js").BookEntry} BookEntry */
/** @typedef {import("./code.js").Dose} Dose */
/** @typedef {import("./speech.js").Speech} Speech */
/**
 * @typedef {{field: string, value: number | string, factor: number, bounds: number[], options: {value: string, text: string}[]}} FieldPiece
 * A number in units of `factor` seconds (or of 1) within `bounds`, or a choice where there are options.
 * @typedef {string | FieldPiece} SentencePiece
 */

/** Stands first in a choice of which nothing was chosen yet. */
const NOTHING_CHOSEN = { value: "", text: "–" };
const SECONDS_A_MINUTE = 60;
/** Widest span of effort that is offered. */
const WIDEST_EFFORT = 3;

/**
 * The sentence of a dose.
 * @param {Dose} dose
 * @param {BookEntry} entry
 * @param {import("./book.js").Book["terms"]} terms
 * @param {Speech} speech
 * @returns {SentencePiece[]}
 */
export function doseSentence(dose, entry, terms, speech) {
  const counted = (/** @type {string} */ id, /** @type {string} */ name) => countedPieces(id, name, dose, entry, speech);
  const parts = [amountPieces(dose, entry, speech, counted), sidePieces(dose, entry, speech)];
  const has = (/** @type {string} */ name) => valueOf(dose, name) !== undefined || (isOpen(entry.dose) && lookUp(entry.range, name) !== undefined);
  if (kindOf(dose, entry) === "reps" && has("hold")) parts.push(counted("dose.hold", "hold"));
  parts.push(tempoPieces(dose, entry, speech));
  if (has("weight")) parts.push(fillPieces(speech.pieces("dose.weight"), { weight: weightPieces(dose, entry, speech) }));
  if (dose.band !== undefined) parts.push(bandPieces(dose.band, terms.bands, speech));
  if (has("days")) parts.push(counted("dose.days", "days"));
  if (boundsOf("times", entry.dose, entry.range) || dose.times > 1) parts.push(counted("dose.times", "times"));
  parts.push(effortPieces(dose, entry, speech));
  const told = [dose.work === "run" ? speech.say("dose.run") : "", ratePhrase(dose, speech), ...partsBeside(dose, speech, doseNames(dose, terms))];
  parts.push(...told.filter(Boolean).map((part) => [part]));
  if (!isInterval(dose) && (boundsOf("rest", entry.dose, entry.range) || dose.rest)) parts.push(counted(...restUnit(dose, entry)));
  return joinPieces(parts.filter((part) => part.length), speech);
}

/**
 * What is counted in one set; of an open dose what its range offers.
 * @param {Dose} dose
 * @param {BookEntry} entry
 * @returns {"reps" | "time" | "distance" | "hold"}
 */
function kindOf(dose, entry) {
  if (!isOpen(entry.dose)) return doseKind(dose);
  return /** @type {const} */ (["reps", "time", "distance"]).find((name) => lookUp(entry.range, name)) ?? "hold";
}

/**
 * @param {Dose} dose
 * @param {BookEntry} entry
 * @param {Speech} speech
 * @param {(id: string, name: string) => SentencePiece[]} counted
 * @returns {SentencePiece[]}
 */
function amountPieces(dose, entry, speech, counted) {
  const kind = kindOf(dose, entry);
  if (kind === "hold") {
    return fillPieces(speech.pieces("dose.holds_of"), { holds: counted("dose.holds", "sets"), amount: counted("dose.seconds_each", "hold") });
  }
  if (dose.work && isInterval(dose)) return roundPieces(dose, entry, speech, counted);
  if (kind === "reps" && dose.count) {
    const reps = [numberPiece("reps", 1, dose, entry, speech)];
    const amount = dose.repsTo ? fillPieces(speech.pieces("dose.from_to"), { low: reps, high: [speech.number(dose.repsTo)] }) : reps;
    return fillPieces(speech.pieces("dose.sets_of"), { sets: counted("dose.sets", "sets"), amount: fillPieces(speech.pieces(`dose.counted_${dose.count}`, dose.repsTo ?? dose.reps), { amount }) });
  }
  if (kind === "reps" && dose.repsTo) {
    const values = { low: [numberPiece("reps", 1, dose, entry, speech)], n: [speech.number(dose.repsTo)] };
    return fillPieces(speech.pieces("dose.sets_of"), { sets: counted("dose.sets", "sets"), amount: fillPieces(speech.pieces("dose.reps_each_to", dose.repsTo), values) });
  }
  const unit = { reps: "reps", time: inMinutes("time", dose, entry) ? "minutes" : "seconds", distance: "meters" }[kind];
  return fillPieces(speech.pieces("dose.sets_of"), { sets: counted("dose.sets", "sets"), amount: counted(`dose.${unit}_each`, kind) });
}

/**
 * Rounds of work and rest.
 * @param {Dose} dose
 * @param {BookEntry} entry
 * @param {Speech} speech
 * @param {(id: string, name: string) => SentencePiece[]} counted
 * @returns {SentencePiece[]}
 */
function roundPieces(dose, entry, speech, counted) {
  const time = (/** @type {string} */ name) => counted(inMinutes(name, dose, entry) ? "dose.minutes" : "dose.seconds", name);
  const work = doseKind(dose) === "distance" ? counted("dose.meters", "distance") : time("time");
  const id = `dose.rounds_${dose.work?.replaceAll("-", "_")}`;
  return fillPieces(withNumber(id, dose.sets, speech), { n: [numberPiece("sets", 1, dose, entry, speech)], work, rest: time("rest") });
}

/**
 * Whether a time and its whole range are full minutes.
 * @param {string} name
 * @param {Dose} dose
 * @param {BookEntry} entry
 * @returns {boolean}
 */
function inMinutes(name, dose, entry) {
  const bounds = boundsOf(name, entry.dose, entry.range) ?? [];
  const value = valueOf(dose, name);
  return [...bounds, ...(value === undefined ? [] : [value])].every((seconds) => typeof seconds === "number" && seconds !== 0 && seconds % SECONDS_A_MINUTE === 0);
}

/**
 * @param {Dose} dose
 * @param {BookEntry} entry
 * @returns {[string, string]}
 */
function restUnit(dose, entry) {
  return [inMinutes("rest", dose, entry) ? "dose.rest_minutes" : "dose.rest_seconds", "rest"];
}

/**
 * A phrase with a number, the number a field where it may be moved.
 * @param {string} id
 * @param {string} name
 * @param {Dose} dose
 * @param {BookEntry} entry
 * @param {Speech} speech
 * @returns {SentencePiece[]}
 */
function countedPieces(id, name, dose, entry, speech) {
  const factor = id.includes("minutes") ? SECONDS_A_MINUTE : 1;
  const bounds = boundsOf(name, entry.dose, entry.range);
  const isEmpty = isOpen(entry.dose) && isUnset(dose, name, entry.range);
  const value = isEmpty && bounds ? bounds[1] : Number(valueOf(dose, name) ?? 0);
  return fillPieces(withNumber(id, value / factor, speech), { n: [numberPiece(name, factor, dose, entry, speech)] });
}

/**
 * A number in units of `factor` seconds (or of 1), a field where it may be moved.
 * @param {string} name
 * @param {number} factor
 * @param {Dose} dose
 * @param {BookEntry} entry
 * @param {Speech} speech
 * @returns {SentencePiece}
 */
function numberPiece(name, factor, dose, entry, speech) {
  const bounds = boundsOf(name, entry.dose, entry.range);
  const value = Number(valueOf(dose, name) ?? 0) / factor;
  const isEmpty = isOpen(entry.dose) && isUnset(dose, name, entry.range);
  return bounds ? { field: name, value: isEmpty ? "" : value, factor, bounds: bounds.map((end) => end / factor), options: [] } : speech.number(value);
}

/**
 * The form of a phrase for a number.  Some forms say the number in words ("once"): a field needs one with its number; the Arabic for
 * two, which is a word of its own ("two sets"), has its field behind it, as the number stands where it is said to stress it.
 * @param {string} id
 * @param {number} value
 * @param {Speech} speech
 * @returns {import("./speech.js").Piece[]}
 */
function withNumber(id, value, speech) {
  const pieces = speech.pieces(id, value);
  if (pieces.some((piece) => typeof piece !== "string")) return pieces;
  return speech.plural.select(value) === "two" ? [...pieces, " ", { name: "n" }] : speech.pieces(id);
}

/**
 * A weight in the clinic's unit, the number a field where it may be moved.
 * @param {Dose} dose
 * @param {BookEntry} entry
 * @param {Speech} speech
 * @returns {SentencePiece[]}
 */
function weightPieces(dose, entry, speech) {
  const value = shownWeight(dose.weight ?? 0, speech.inPounds);
  const span = boundsOf("weight", entry.dose, entry.range);
  const bounds = span ? shownSpan(span[0], span[1], speech.inPounds) : [];
  const number = span ? { field: "weight", value: dose.weight === undefined ? "" : value, factor: 1, bounds, options: [] } : speech.number(value);
  return fillPieces(speech.inPounds ? withNumber("dose.lb", value, speech) : speech.pieces("dose.kg"), { n: [number] });
}

/**
 * What a number typed into a field stands for: in seconds, or kilograms.  A weight that is typed as the library's own is
 * shown is the library's own, though it was written in another unit; an end of its range is that end.
 * @param {FieldPiece} piece
 * @param {number} typed
 * @param {BookEntry} entry
 * @param {Speech} speech
 * @returns {number}
 */
export function valueTyped(piece, typed, entry, speech) {
  if (piece.field !== "weight") return typed * piece.factor;
  const own = entry.dose.weight;
  if (own !== undefined && typed === shownWeight(own, speech.inPounds)) return own;
  const ends = boundsOf("weight", entry.dose, entry.range) ?? [];
  return ends.find((end) => typed === exactWeight(end, speech.inPounds)) ?? typedWeight(typed, speech.inPounds);
}

/**
 * @param {Dose} dose
 * @param {BookEntry} entry
 * @param {Speech} speech
 * @returns {SentencePiece[]}
 */
function sidePieces(dose, entry, speech) {
  const sides = sidesAllowed(entry.dose, entry.range);
  if (!sides.length) return [];
  // Where both orders may be chosen, each says when to change.
  const isOrdered = sides.includes("one-side-first");
  const name = (/** @type {string} */ value) => (value === "both" && isOrdered ? "clinician.side_each_set" : `dose.side_${value.replaceAll("-", "_")}`);
  const options = sides.map((value) => ({ value, text: speech.say(name(value)) }));
  return [choice("side", isUnset(dose, "side", entry.range) ? "" : dose.side, options)];
}

/**
 * A choice; where nothing was chosen yet, that stands first.
 * @param {string} field
 * @param {number | string} value
 * @param {{value: string, text: string}[]} options
 * @returns {FieldPiece}
 */
function choice(field, value, options) {
  return { field, value, factor: 1, bounds: [], options: value === "" ? [NOTHING_CHOSEN, ...options] : options };
}

/**
 * The choice of a tempo, where the library offers any.
 * @param {Dose} dose
 * @param {BookEntry} entry
 * @param {Speech} speech
 * @returns {SentencePiece[]}
 */
function tempoPieces(dose, entry, speech) {
  const value = valueOf(dose, "tempo");
  const offered = lookUp(entry.range, "tempo");
  if (!offered || (value === undefined && !isOpen(entry.dose))) return [];
  const options = offered.map((one) => ({ value: String(one), text: tempoLine({ ...dose, tempo: unpackTempo(one) }, speech) }));
  return [choice("tempo", value ?? "", options)];
}

/**
 * The choice of the effort, where the library lets it move: every whole number and span within its range.
 * @param {Dose} dose
 * @param {BookEntry} entry
 * @param {Speech} speech
 * @returns {SentencePiece[]}
 */
function effortPieces(dose, entry, speech) {
  const span = boundsOf("effort", entry.dose, entry.range);
  if (!span || (!dose.effort && !isOpen(entry.dose))) return [];
  const own = valueOf(dose, "effort") ?? "";
  const ends = Array.from({ length: Math.floor(span[1]) - Math.ceil(span[0]) + 1 }, (_, at) => Math.ceil(span[0]) + at);
  const spans = ends.flatMap((low) => ends.filter((high) => high >= low && high - low <= WIDEST_EFFORT).map((high) => [low, high]));
  const values = new Set([...spans.map((ends) => ends.join("-")), ...(own === "" ? [] : [String(own)])]);
  const options = Array.from(values, (value) => ({ value, text: effortLine({ ...dose, effort: value.split("-").map(Number) }, speech) }));
  return [choice("effort", own, options)];
}

/**
 * @param {string} band
 * @param {Record<string, string>} bands
 * @param {Speech} speech
 * @returns {SentencePiece[]}
 */
function bandPieces(band, bands, speech) {
  const options = Object.entries(bands).map(([value, text]) => ({ value, text }));
  return fillPieces(speech.pieces("dose.band"), { band: [choice("band", band, options)] });
}

/**
 * Pieces of a phrase with its placeholders replaced by other pieces.
 * @template T
 * @param {import("./speech.js").Piece[]} pieces
 * @param {Record<string, (string | T)[]>} values
 * @returns {(string | T)[]}
 */
export function fillPieces(pieces, values) {
  return pieces.flatMap((piece) => (typeof piece === "string" ? [piece] : (values[piece.name] ?? [])));
}

/**
 * @param {SentencePiece[][]} parts
 * @param {Speech} speech
 * @returns {SentencePiece[]}
 */
function joinPieces(parts, speech) {
  return parts.reduce((first, second) => (first.length ? fillPieces(speech.pieces("dose.comma"), { first, second }) : second), []);
}
