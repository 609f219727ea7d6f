/**
 * The picked exercises as a list that one can read aloud: each with its small figure and its dose as a sentence
 * with fields.  Shows a draft and says what was done to it; keeps nothing.
 */

import { parts as PARTS } from "../../../../handouts/bundle/code.json";
import { pickedEntry, wholeDose } from "./book.js";
import { spanLine, timePhrase } from "./dose_words.js";
import { make, makeButton, makeSelect } from "./dom.js";
import { glide } from "./drag.js";
import { movesOf } from "./next_visit.js";
import { sidesAllowed } from "./code.js";
import { sayInstead } from "./said_stages.js";
import { substitutesOf } from "./substitutes.js";
import { fieldName } from "./refusals.js";
import { doseSentence, fillPieces, valueTyped } from "./sentence.js";
import { oneStageMore, stageRows } from "./stage_view.js";

const NAMED_SIDES = ["left", "right"];
const ROUNDS = "rounds";
/** Seconds of rest after a round to choose from. */
const RESTS = [0, 30, 60, 90, 120, 180];

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./draft.js").Draft} Draft */
/** @typedef {import("./sentence.js").FieldPiece} FieldPiece */
/** @typedef {import("./speech.js").Speech} Speech */
/**
 * @typedef {object} Acts  What the page does when something is touched.
 * @property {(code: string, name: string, value: number | string, done: boolean) => import("./code.js").Refusal | null} set
 * @property {(code: string, step: number) => void} shift
 * @property {(code: string) => void} out
 * @property {(code: string, target: string) => void} replace
 * @property {import("./stage_view.js").SetStages} stages
 * @property {(code: string, marks: string[]) => void} instead
 * @property {(code: string, part: string) => void} part
 * @property {(seconds: number) => void} roundRest
 */

/**
 * Draws the list anew and puts the focus back where it was.
 * @param {HTMLElement} list
 * @param {Draft} draft
 * @param {Book} book
 * @param {Speech} speech
 * @param {Acts} acts
 * @param {import("./checks.js").Against[]} against  the exercises that go against a limit that is ticked
 * @param {(code: string) => string[]} touching  the conditions ticked that touch an exercise
 */
export function showPicks(list, draft, book, speech, acts, against, touching) {
  const focused = document.activeElement instanceof HTMLElement && list.contains(document.activeElement) ? document.activeElement.id : "";
  const codes = draft.bundle.picks.map((pick) => pick.code);
  const rows = draft.bundle.picks.map((pick, at) => {
    const row = pickRow(pick, at, codes, book, speech, acts);
    const isFirst = pick.part === ROUNDS && draft.bundle.picks.findIndex(({ part }) => part === ROUNDS) === at;
    if (isFirst) row.querySelector(".pick-text")?.append(restRow(draft.bundle.roundRest ?? 0, speech, acts));
    const found = against.find(({ code }) => code === pick.code);
    const ask = sayAskFirst(touching(pick.code), speech);
    if (ask) row.querySelector(".sentence")?.before(make("p", { class: "ask-first" }, [make("a", { href: "#look" }, [ask])]));
    if (found) row.querySelector(".sentence")?.before(againstNote(found, book, speech, acts));
    return row;
  });
  glide(list, () => list.replaceChildren(...rows));
  if (focused) document.getElementById(focused)?.focus();
}

/**
 * @param {string[]} names  of conditions that are ticked and touch an exercise
 * @param {Speech} speech
 * @returns {string} empty where there are none
 */
export function sayAskFirst(names, speech) {
  return names.length ? speech.say("clinician.condition_mark", { conditions: speech.join(names) }) : "";
}

/**
 * Which limits an exercise goes against, and a button that takes an easier one in its place.
 * @param {import("./checks.js").Against} against
 * @param {Book} book
 * @param {Speech} speech
 * @param {Acts} acts
 * @returns {HTMLElement}
 */
function againstNote({ code, found, easier }, book, speech, acts) {
  const lines = found.map(({ limit, text }) => make("p", {}, fillPieces(speech.pieces("clinician.against"), { limit: [make("b", {}, [limit])], finding: [text] })));
  const exercise = easier && book.exercises[easier].title;
  const swap = easier ? [makeButton(speech.say("clinician.swap", { exercise }), () => acts.replace(code, easier), { class: "quiet", id: `swap-${code}` })] : [];
  return make("div", { class: "against" }, [...lines, ...swap]);
}

/**
 * @param {import("./code.js").Pick} pick
 * @param {number} at
 * @param {string[]} codes
 * @param {Book} book
 * @param {Speech} speech
 * @param {Acts} acts
 * @returns {HTMLElement}
 */
function pickRow(pick, at, codes, book, speech, acts) {
  const entry = book.exercises[pick.code];
  const note = make("span", { class: "field-note", id: `note-${pick.code}`, "aria-live": "polite" });
  const refusal = make("p", { class: "field-note refused", id: `refused-${pick.code}`, role: "alert" });
  const sentence = make("p", { class: "sentence" }, sentenceNodes(pick, note, book, speech, acts));
  const title = make("h3", {}, [make("a", { href: entry.page, tabindex: "-1" }, [entry.title])]);
  const picture = make("img", { class: "panel drag", src: entry.picture, alt: "", width: "96", height: "96", draggable: "false", title: codes.length > 1 ? speech.say("clinician.drag") : "" });
  const overdue = entry.overdue ? [make("p", { class: "overdue" }, [entry.overdue])] : [];
  const text = make("div", { class: "pick-text" }, [title, ...overdue, sentence, ...insteadRows(pick, book, speech, acts), ...stageRows(pick, book, speech, acts.stages), refusal, actsRow(pick, at, codes, note, book, speech, acts)]);
  turnSide(picture, text, pick, book);
  return make("li", { id: `pick-${pick.code}` }, [picture, text]);
}

/**
 * The rest after each round, at the first exercise that is done in rounds.
 * @param {number} rest
 * @param {Speech} speech
 * @param {Acts} acts
 * @returns {HTMLElement}
 */
function restRow(rest, speech, acts) {
  const seconds = [...new Set([...RESTS, rest])].sort((one, other) => one - other);
  const options = seconds.map((value) => ({ value: String(value), text: value ? timePhrase(value, speech, "") : speech.say("clinician.none") }));
  const label = speech.say("clinician.round_rest");
  return make("p", { class: "acts" }, [make("label", { for: "round-rest" }, [label]), makeSelect(options, String(rest), (value) => acts.roundRest(Number(value)), { id: "round-rest" })]);
}

/**
 * What is taken in place of things, with a button each that takes it back.
 * @param {import("./code.js").Pick} pick
 * @param {Book} book
 * @param {Speech} speech
 * @param {Acts} acts
 * @returns {HTMLElement[]}
 */
function insteadRows(pick, book, speech, acts) {
  const chosen = substitutesOf(pick, book.substitutes);
  if (!chosen.length) return [];
  const buttons = chosen.map(({ mark, thing }) => {
    const act = speech.say("clinician.instead_out", { thing: book.terms.equipment[thing] });
    const others = chosen.filter((one) => one.mark !== mark).map((one) => one.mark);
    return makeButton(act, () => acts.instead(pick.code, others), { class: "quiet", id: `instead-${pick.code}-${mark}`, "aria-label": speech.say("clinician.acts_on", { act, exercise: book.exercises[pick.code].title }) });
  });
  return [make("p", { class: "instead" }, sayInstead(pick, book, speech).flatMap((line) => [line, " "])), make("p", { class: "acts" }, buttons)];
}

/**
 * Shows the picture for the side that is trained, and its button as pressed.
 * @param {Element | null} picture
 * @param {Element | null} row
 * @param {import("./code.js").Pick} pick
 * @param {Book} book
 */
function turnSide(picture, row, pick, book) {
  const { side } = wholeDose(pick, book);
  picture?.classList.toggle("mirrored", side === book.exercises[pick.code].mirror);
  for (const named of NAMED_SIDES) row?.querySelector(`#${named}-${pick.code}`)?.setAttribute("aria-pressed", String(side === named));
}

/**
 * @param {import("./code.js").Pick} pick
 * @param {HTMLElement} note
 * @param {Book} book
 * @param {Speech} speech
 * @param {Acts} acts
 * @returns {(Node | string)[]}
 */
function sentenceNodes(pick, note, book, speech, acts) {
  const entry = pickedEntry(pick, book);
  return doseSentence(wholeDose(pick, book), entry, book.terms, speech).map((piece) => {
    if (typeof piece === "string") return make("span", {}, [piece]);
    const id = `${piece.field}-${pick.code}`;
    const name = speech.say("clinician.acts_on", { act: fieldName(piece.field, speech), exercise: entry.title });
    if (piece.options.length) {
      return makeSelect(piece.options, String(piece.value), (value) => acts.set(pick.code, piece.field, piece.field === "tempo" ? Number(value) : value, true), { id, "aria-label": name });
    }
    return numberField(pick, piece, id, name, note, book, speech, acts);
  });
}

/**
 * Brings the sentence of one exercise up to date without making its fields anew, so that the focus stays where it is.
 * @param {import("./code.js").Pick} pick
 * @param {Book} book
 * @param {Speech} speech
 * @returns {boolean} whether the sentence still has the same fields
 */
export function refreshSentence(pick, book, speech) {
  const parts = Array.from(document.querySelectorAll(`#pick-${pick.code} .sentence > *`));
  const pieces = doseSentence(wholeDose(pick, book), pickedEntry(pick, book), book.terms, speech);
  const alike = pieces.length === parts.length && pieces.every((piece, at) => (typeof piece === "string" ? "SPAN" : `${piece.field}-${pick.code}`) === (parts[at].id || parts[at].tagName)) && pieces.every((piece, at) => typeof piece === "string" || !piece.bounds.length || parts[at].getAttribute("data-factor") === String(piece.factor));
  if (!alike) return false;
  pieces.forEach((piece, at) => {
    const field = parts[at];
    if (typeof piece === "string") field.textContent = piece;
    else if (field instanceof HTMLSelectElement) field.value = String(piece.value);
  });
  const row = document.getElementById(`pick-${pick.code}`);
  turnSide(row?.querySelector("img") ?? null, row, pick, book);
  const refusal = document.getElementById(`refused-${pick.code}`);
  if (refusal) refusal.textContent = "";
  return true;
}

/**
 * A number inside the sentence; its range is said while it is changed, and outside it nothing is taken.
 * @param {import("./code.js").Pick} pick
 * @param {FieldPiece} piece
 * @param {string} id
 * @param {string} name
 * @param {HTMLElement} note
 * @param {Book} book
 * @param {Speech} speech
 * @param {Acts} acts
 * @returns {HTMLElement}
 */
function numberField(pick, piece, id, name, note, book, speech, acts) {
  const { code } = pick;
  const [low, high] = piece.bounds;
  const step = piece.field !== "weight" ? "1" : speech.inPounds ? "0.5" : "0.25";
  const typed = () => valueTyped(piece, Number(input.value), pickedEntry(pick, book), speech);
  const input = /** @type {HTMLInputElement} */ (
    make("input", { id, type: "number", "aria-label": name, "aria-describedby": note.id, "data-factor": String(piece.factor), min: String(low), max: String(high), step, value: String(piece.value), inputmode: "decimal" })
  );
  const fit = () => (input.style.inlineSize = `${Math.max(1, input.value.length) + 1.2}ch`);
  const range = spanLine(piece.field, book.exercises[code].range[piece.field], speech);
  input.addEventListener("focus", () => {
    input.select();
    note.textContent = speech.say("clinician.range", { field: fieldName(piece.field, speech), range });
  });
  input.addEventListener("blur", () => (note.textContent = ""));
  input.addEventListener("input", () => {
    fit();
    if (input.value !== "") acts.set(code, piece.field, typed(), false);
  });
  let kept = String(piece.value);
  input.addEventListener("change", () => {
    const refusal = input.value === "" ? { kind: "damaged" } : acts.set(code, piece.field, typed(), true);
    if (!refusal) {
      kept = input.value;
      return;
    }
    const row = document.getElementById(`refused-${code}`);
    if (row) row.textContent = speech.say("clinician.refused_range", { value: input.value || "–", range, kept: kept === "" ? "–" : speech.number(Number(kept)) });
    input.value = kept;
    fit();
  });
  fit();
  return input;
}

/**
 * Two buttons that say which side is trained, where one may be; a second press gives back the library's own.
 * @param {import("./code.js").Pick} pick
 * @param {Book} book
 * @param {Speech} speech
 * @param {Acts} acts
 * @returns {HTMLElement[]}
 */
function sideButtons(pick, book, speech, acts) {
  const { code } = pick;
  const entry = pickedEntry(pick, book);
  const sides = sidesAllowed(entry.dose, entry.range);
  return NAMED_SIDES.filter((side) => sides.includes(side)).map((side) => {
    const act = speech.say(`clinician.${side}`);
    const name = speech.say("clinician.acts_on", { act, exercise: entry.title });
    const button = makeButton(act, () => acts.set(code, "side", button.getAttribute("aria-pressed") === "true" ? entry.dose.side : side, true), { id: `${side}-${code}`, class: "quiet side", "aria-label": name });
    return button;
  });
}

/**
 * @param {import("./code.js").Pick} pick
 * @param {number} at
 * @param {string[]} codes
 * @param {HTMLElement} note
 * @param {Book} book
 * @param {Speech} speech
 * @param {Acts} acts
 * @returns {HTMLElement}
 */
function actsRow(pick, at, codes, note, book, speech, acts) {
  const { code } = pick;
  const exercise = book.exercises[code].title;
  const button = (/** @type {string} */ id, /** @type {string} */ act, /** @type {() => void} */ run) =>
    makeButton(act, run, { id: `${id}-${code}`, class: "quiet", "aria-label": speech.say("clinician.acts_on", { act, exercise }) });
  const row = make("p", { class: "acts" });
  if (at > 0) row.append(button("up", speech.say("clinician.up"), () => acts.shift(code, -1)));
  if (at + 1 < codes.length) row.append(button("down", speech.say("clinician.down"), () => acts.shift(code, 1)));
  row.append(button("out", speech.say("clinician.take_out"), () => acts.out(code)));
  row.append(...sideButtons(pick, book, speech, acts));
  if (codes.length > 1 || pick.part) {
    const options = PARTS.map((part) => ({ value: part, text: speech.say(`clinician.part_${part.replace("-", "_") || "main"}`) }));
    row.append(makeSelect(options, pick.part ?? "", (part) => acts.part(code, part), { id: `part-${code}`, "aria-label": speech.say("clinician.acts_on", { act: speech.say("clinician.part"), exercise }) }));
  }
  const more = oneStageMore(pick, book);
  if (more) row.append(button("stage", speech.say("clinician.stage_add"), () => acts.stages(code, more)));
  const { back, on } = movesOf(code, book, codes);
  const option = (/** @type {[string, string]} */ [target, change], /** @type {string} */ way) => {
    const move = speech.say(`clinician.${way}_to`, { exercise: book.exercises[target].title });
    return { value: target, text: change ? speech.say("clinician.move_change", { move, change }) : move };
  };
  const moves = [...back.map((each) => option(each, "back")), ...on.map((each) => option(each, "on"))];
  if (moves.length) {
    const act = speech.say("clinician.move");
    row.append(makeSelect([{ value: "", text: act }, ...moves], "", (target) => acts.replace(code, target), { id: `move-${code}`, "aria-label": speech.say("clinician.acts_on", { act, exercise }) }));
  }
  row.append(note);
  return row;
}
