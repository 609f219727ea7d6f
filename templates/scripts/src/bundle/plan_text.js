/**
 * A plan as a clinician would say it: "sit to stand 3x8, bridge 2x10 hold 5, heel raise, 4 weeks, Spanish".  Reads exercises,
 * doses, weeks and language, and keeps every piece that it did not understand.  Pure; how exercises are found is given.
 */

import { fold, splitWords } from "../fold.js";
import { isRefusal, lookUp, tempoText, unpackTempo } from "./code.js";
import { decodeBundle } from "./former_code.js";
import { doseKind } from "./dose_words.js";
import { addPick, setField } from "./draft.js";
import { FILLERS, PATTERNS, namesBeforeSide, namesOf, numberOf } from "./plan_words.js";
import { pickedEntry } from "./book.js";
import { most_weeks as MOST_WEEKS } from "../../../../handouts/bundle/code.json";
import { typedWeight } from "./weight.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./draft.js").Draft} Draft */
/** @typedef {{from: number, to: number, says: string[], groups: Record<string, string>}} Token  A piece of the text that says something of a dose. */
/** @typedef {{from: number, to: number, name: string, tokens: Token[]}} Piece  What stands between two commas. */
/**
 * @typedef {{from: number, to: number, text: string, refusal?: import("./code.js").Refusal}} Unread  A piece that was not
 *   understood, or a number that the library does not allow.
 * @typedef {{draft: Draft, codes: string[], unread: Unread[]}} Plan  `codes`: the exercises read, in order.
 * @typedef {{languages: Record<string, string>, sheet: Record<string, Partial<import("./draft.js").Sheet>>}} Called  What languages, papers
 *   and type sizes are called, folded.
 */

const SECONDS_A_MINUTE = 60;
/** Longer texts are not read. */
export const MOST_CHARACTERS = 4000;
/** What stands between the parts of a plan, where it is not a comma with a space. @type {Record<string, string>} */
const COMMAS = { ar: "، ", zh: "，" };
/** A bundle code is longer than an exercise's. */
const SHORTEST_CODE = 8;

/**
 * A folded text, and for each of its characters the place in the text as typed.
 * @param {string} text
 * @returns {{folded: string, places: number[]}}
 */
function foldInPlace(text) {
  let folded = "";
  /** @type {number[]} */
  const places = [];
  let at = 0;
  for (const character of text) {
    const digit = /[٠-٩۰-۹]/.test(character) ? String((character.codePointAt(0) ?? 0) & 15) : fold(character);
    for (let count = 0; count < digit.length; count += 1) places.push(at);
    folded += digit;
    at += character.length;
  }
  places.push(at);
  return { folded, places };
}

/**
 * The pieces of a text, each with what it says of a dose and with what is left of it, which may be a name.
 * @param {string} text
 * @returns {Piece[]}
 */
export function readPieces(text) {
  const { folded, places } = foldInPlace(text.slice(0, MOST_CHARACTERS));
  /** @type {Piece[]} */
  const pieces = [];
  for (const { index, 0: part } of folded.matchAll(/(?:[^,;\n\r،؛，；、•|]|(?<=\d),(?=\d))+/gu)) {
    let left = part;
    /** @type {Token[]} */
    const tokens = [];
    for (const { says, pattern } of PATTERNS) {
      left = left.replace(pattern, (/** @type {any[]} */ ...found) => {
        const [matched] = found;
        const at = Number(found.find((one) => typeof one === "number"));
        tokens.push({ from: places[index + at], to: places[index + at + matched.length], says, groups: namesOf(found.at(-1)) });
        return " ".repeat(matched.length);
      });
    }
    const words = [...left.matchAll(/[\p{L}\p{N}\p{M}'’-]+/gu)].filter(([word]) => /[\p{L}\p{N}]/u.test(word));
    const named = trim(words);
    if (!named.length && !tokens.length) continue;
    const [first, last] = [named[0], named[named.length - 1]];
    const from = first ? places[index + first.index] : tokens[0].from;
    const to = last ? places[index + last.index + last.word.length] : tokens[0].to;
    pieces.push({ from, to, name: named.map(({ word }) => word).join(" "), tokens: tokens.sort((one, other) => one.from - other.from) });
  }
  return pieces;
}

/**
 * @param {RegExpMatchArray[]} words
 * @returns {{word: string, index: number}[]} without those that say nothing, at both ends
 */
function trim(words) {
  const isFiller = (/** @type {RegExpMatchArray} */ [word]) => FILLERS.has(word);
  const first = words.findIndex((word) => !isFiller(word));
  if (first < 0) return [];
  const last = words.length - [...words].reverse().findIndex((word) => !isFiller(word));
  return words.slice(first, last).map(({ 0: word, index }) => ({ word, index: index ?? 0 }));
}

/**
 * The names in a text that a search is asked for.
 * @param {string} text
 * @returns {string[]}
 */
export function namesIn(text) {
  return readPieces(text).map(({ name }) => name).filter(Boolean);
}

/**
 * Whether a text is more than one name: a list, or a name with a dose.  A complaint has a side too ("left knee"): with nothing but
 * a side, a name counts where it is the whole title of an exercise, or its code.
 * @param {string} text
 * @param {Book} book
 * @returns {boolean}
 */
export function isPlanText(text, book) {
  const pieces = readPieces(text);
  if (pieces.length !== 1) return pieces.length > 1;
  const [{ name, tokens }] = pieces;
  const isSideAlone = tokens.every(({ says, groups }) => says[0] === "side" && (groups.left || groups.right));
  return tokens.length > 0 && (!isSideAlone || namedIn(namesOfPiece(pieces[0], name), book, () => []) !== "");
}

/**
 * The bundle code in a text for the chart, pasted whole; empty where there is none that can be read.
 * @param {string} text
 * @param {Book} book
 * @returns {string}
 */
export function codeInChart(text, book) {
  const codes = text.slice(0, MOST_CHARACTERS).split(/[\n\r;；]+/).map((line) => line.split(/[:：]/).at(-1)?.trim() ?? "");
  return codes.reverse().find((code) => code.length >= SHORTEST_CODE && !isRefusal(decodeBundle(code, book))) ?? "";
}

/**
 * Reads a plan into a draft.
 * @param {string} text
 * @param {Draft} draft  what it is added to
 * @param {Book} book
 * @param {(name: string) => string[]} find  the codes of the exercises that a name finds, the best first
 * @param {Called} called
 * @returns {Plan}
 */
export function readPlan(text, draft, book, find, called) {
  const pieces = joinTitles(readPieces(text), book);
  /** @type {Plan} */
  const plan = { draft, codes: [], unread: [] };
  let last = "";
  for (const piece of pieces) {
    const names = namesOfPiece(piece, readSheet(piece.name, plan, called));
    const code = namedIn(names, book, find);
    if (code || names[names.length - 1]) {
      if (code) {
        plan.draft = addPick(plan.draft, code, book);
        if (plan.draft.bundle.picks.some((pick) => pick.code === code)) plan.codes.push(code);
        last = code;
      } else {
        plan.unread.push({ from: piece.from, to: piece.to, text: text.slice(piece.from, piece.to) });
        last = "";
      }
    }
    for (const token of piece.tokens) readToken(token, last, plan, text, book);
  }
  return plan;
}

/**
 * Pieces that a comma within the title of an exercise has parted are one.
 * @param {Piece[]} pieces
 * @param {Book} book
 * @returns {Piece[]}
 */
function joinTitles(pieces, book) {
  const titles = new Set(Object.values(book.exercises).map(({ title }) => splitWords(title, true).join(" ")));
  /** @type {Piece[]} */
  const joined = [];
  for (const piece of pieces) {
    const before = joined.at(-1);
    const both = before && !before.tokens.length ? `${before.name} ${piece.name}` : "";
    if (before && both && titles.has(splitWords(both, true).join(" "))) joined[joined.length - 1] = { ...piece, from: before.from, name: both };
    else joined.push(piece);
  }
  return joined;
}

/**
 * Sets what a piece says of the sheet, its language, its paper or its type size, and gives what is left of its name.
 * @param {string} name
 * @param {Plan} plan
 * @param {Called} called
 * @returns {string}
 */
function readSheet(name, plan, called) {
  const words = name.split(" ");
  for (let from = 0; from < words.length; from += 1) {
    const end = words.slice(from).join(" ");
    const language = lookUp(called.languages, end);
    const sheet = lookUp(called.sheet, end);
    if (language) plan.draft = { ...plan.draft, bundle: { ...plan.draft.bundle, language } };
    if (sheet) plan.draft = { ...plan.draft, sheet: { ...plan.draft.sheet, ...sheet } };
    if (language || sheet) return words.slice(0, FILLERS.has(words[from - 1]) ? from - 1 : from).join(" ");
  }
  return name;
}

/**
 * A plan as it may be typed: two exercises of this library with their own doses.
 * @param {string[]} codes
 * @param {Book} book
 * @param {import("./speech.js").Speech} speech
 * @returns {string} empty where there are not two with repetitions
 */
export function exampleOf(codes, book, speech) {
  const counted = codes.map((code) => lookUp(book.exercises, code)).filter((entry) => entry?.dose.sets && entry.dose.reps && !/[,،，、]/.test(entry.title)).slice(0, 2);
  if (counted.length < 2) return "";
  return [...counted.map((entry) => `${entry?.title} ${entry?.dose.sets}x${entry?.dose.reps}`), speech.count("clinician.weeks", 2)].join(COMMAS[speech.language.split("-")[0]] ?? ", ");
}

/**
 * What languages, papers and type sizes are called: in the language of the page and, a language, in its own.
 * @param {Book} book
 * @param {import("./speech.js").Speech} speech
 * @returns {Called}
 */
export function calledIn(book, speech) {
  const languages = book.tongues.flatMap(({ tag, name }) => [name, new Intl.DisplayNames([tag], { type: "language" }).of(tag) ?? name].map((one) => [inWords(one), tag]));
  const papers = book.papers.map((paper) => [inWords(speech.say(`clinician.paper_${paper}`)), { paper }]);
  const sizes = book.sizes.map((size) => [inWords(speech.say(`clinician.size_${size}`)), { size }]);
  return { languages: Object.fromEntries(languages), sheet: Object.fromEntries([...papers, ...sizes]) };
}

/**
 * @param {string} text
 * @returns {string} as a name in a plan is compared
 */
function inWords(text) {
  return (fold(text).match(/[\p{L}\p{N}\p{M}-]+/gu) ?? []).join(" ");
}

/**
 * What a piece may have as a name.  Where it says left or right, the words before that may belong to it or to a title.
 * @param {Piece} piece
 * @param {string} name  what is left of it
 * @returns {string[]}
 */
function namesOfPiece({ tokens }, name) {
  return tokens.some(({ says, groups }) => says[0] === "side" && (groups.left || groups.right)) ? namesBeforeSide(name) : [name];
}

/**
 * The exercise that one of some names stands for: first by a code or a whole title, then by what is found.
 * @param {string[]} names
 * @param {Book} book
 * @param {(name: string) => string[]} find
 * @returns {string}
 */
function namedIn(names, book, find) {
  for (const way of [() => [], find]) {
    for (const name of names) {
      const code = name && exerciseOf(name, book, way);
      if (code) return code;
    }
  }
  return "";
}

/**
 * The exercise that a name stands for: by its code, by its whole title, or the first that is found.
 * @param {string} name
 * @param {Book} book
 * @param {(name: string) => string[]} find
 * @returns {string}
 */
function exerciseOf(name, book, find) {
  const code = name.toUpperCase();
  if (lookUp(book.exercises, code)) return code;
  const words = splitWords(name, true).join(" ");
  const titled = Object.entries(book.exercises).find(([, { title }]) => splitWords(title, true).join(" ") === words);
  return titled?.[0] ?? find(name)[0] ?? "";
}

/**
 * @param {Token} token
 * @param {string} code  the exercise that it belongs to; empty where there is none
 * @param {Plan} plan
 * @param {string} text
 * @param {Book} book
 */
function readToken(token, code, plan, text, book) {
  const unread = (/** @type {import("./code.js").Refusal | undefined} */ refusal) => plan.unread.push({ from: token.from, to: token.to, text: text.slice(token.from, token.to), ...(refusal ? { refusal } : {}) });
  if (token.says[0] === "weeks") {
    const weeks = numberOf(token.groups.n);
    if (Number.isInteger(weeks) && weeks >= 1 && weeks <= MOST_WEEKS) plan.draft = { ...plan.draft, bundle: { ...plan.draft.bundle, weeks } };
    else unread({ kind: "out-of-bounds", value: weeks, low: 1, high: MOST_WEEKS });
    return;
  }
  const pick = plan.draft.bundle.picks.find((one) => one.code === code);
  if (!pick) {
    unread(undefined);
    return;
  }
  const entry = pickedEntry(pick, book);
  for (const [field, value] of fieldsOf(token, entry, book)) {
    const next = value === null ? null : setField(plan.draft, code, field, value, book);
    if (next && !("kind" in next)) plan.draft = next;
    else unread(next && "kind" in next ? next : { kind: "out-of-bounds", exercise: code, field });
  }
}

/**
 * The fields of a dose that a token sets; null where an exercise has nothing of the kind.
 * @param {Token} token
 * @param {import("./book.js").BookEntry} entry
 * @param {Book} book
 * @returns {[string, number | string | null][]}
 */
function fieldsOf({ says, groups }, entry, book) {
  const n = groups.n === undefined ? NaN : numberOf(groups.n);
  switch (says[0]) {
    case "tempo":
      return [["tempo", entry.range.tempo?.find((one) => tempoText(unpackTempo(one)) === groups.tempo.replaceAll("/", "-")) ?? null]];
    case "effort":
      return [["effort", groups.effort.replace(/\s*(?:-|–|to|a)\s*/, "-")]];
    case "times":
      return [["times", groups.often || groups.abbreviated ? numberOf(groups.often ?? groups.abbreviated) : n]];
    case "days":
      return [["days", groups.daily ? 7 : groups.often ? numberOf(groups.often) : n]];
    case "rest":
      return [["rest", groups.minutes ? n * SECONDS_A_MINUTE : n]];
    case "hold":
      return holdOf(groups.minutes ? n * SECONDS_A_MINUTE : n, entry);
    case "weight":
      return [["weight", typedWeight(n, /^(?:l|p)/.test(groups.unit))]];
    case "side":
      if (groups.left || groups.right) return [["side", groups.left ? "left" : "right"]];
      return [["side", groups.alternating ? "alternating" : groups.first ? "one-side-first" : groups.both ? "both" : "one"]];
    default: {
      const amount = says.includes("amount") ? [amountOf(says.length > 1 ? numberOf(groups.m) : n, groups, entry)] : [];
      return says[0] === "sets" ? [["sets", n], ...amount] : amount;
    }
  }
}

/**
 * A hold is a field of its own, or a part of the tempo where the library offers one that holds as long.
 * @param {number} seconds
 * @param {import("./book.js").BookEntry} entry
 * @returns {[string, number | null][]}
 */
function holdOf(seconds, { dose, range }) {
  if (range.hold || dose.hold !== undefined || !dose.tempo) return [["hold", seconds]];
  const [go, held, back, pause = 0] = dose.tempo;
  if (held === seconds) return [];
  const offered = (range.tempo ?? []).filter((one) => unpackTempo(one)[1] === seconds);
  const alike = offered.find((one) => unpackTempo(one).join() === [go, seconds, back, pause].join());
  return [["tempo", alike ?? offered[0] ?? null]];
}

/**
 * What one set holds, by the unit that stands behind the number, or else by what the exercise counts.
 * @param {number} value
 * @param {Record<string, string>} groups
 * @param {import("./book.js").BookEntry} entry
 * @returns {[string, number]}
 */
function amountOf(value, groups, { dose, range }) {
  const kind = range.reps && dose.reps === undefined ? "reps" : doseKind(dose);
  if (groups.reps) return [kind === "hold" ? "sets" : "reps", value];
  if (groups.meters) return ["distance", value];
  if (groups.minutes) return [kind === "hold" ? "hold" : "time", value * SECONDS_A_MINUTE];
  if (groups.seconds) return [kind === "time" ? "time" : "hold", value];
  const inMinutes = kind === "time" && [dose.time ?? 0, ...(range.time ?? [])].every((seconds) => seconds % SECONDS_A_MINUTE === 0);
  return [kind, inMinutes ? value * SECONDS_A_MINUTE : value];
}
