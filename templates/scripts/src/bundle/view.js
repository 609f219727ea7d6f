/** What the clinician's page shows of its state, part by part; what is done there is told to `main.js`. */

import { part } from "../page.js";
import { lookUp } from "./code.js";
import { make, makeButton } from "./dom.js";
import { showQr } from "./hand_view.js";
import { sortLimits } from "./state.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./draft.js").Draft} Draft */
/** @typedef {import("./speech.js").Speech} Speech */

/**
 * @param {string} id
 * @param {string} text
 * @returns {HTMLElement} the part, hidden where there is nothing to say
 */
function showLine(id, text) {
  const line = part(id, HTMLElement);
  line.textContent = text;
  line.hidden = text === "";
  return line;
}

/** @param {string} words  read out by a screen reader */
export function announce(words) {
  part("said", HTMLElement).textContent = words;
}

/** @param {string} words  read out, and shown where something was copied or kept */
export function confirmDone(words) {
  announce(words);
  part("copied", HTMLElement).textContent = words;
}

/**
 * @param {number} picks  how many there are
 * @param {number} undoable  how many changes can be undone
 */
export function showButtons(picks, undoable) {
  part("none", HTMLElement).hidden = picks > 0;
  part("order", HTMLButtonElement).disabled = picks < 3;
  part("undo", HTMLButtonElement).disabled = undoable === 0;
}

/**
 * Shows what follows from the picks and their doses.
 * @param {import("./state.js").Facts} facts
 */
export function showFacts({ sums, findings, unreviewed, lacks, lost }) {
  part("totals", HTMLUListElement).replaceChildren(...sums.map((line) => make("li", {}, [line])));
  part("findings", HTMLUListElement).replaceChildren(...findings.map(({ look, text }) => make("li", { class: look }, [text])));
  part("look", HTMLElement).hidden = findings.length === 0;
  part("unreviewed", HTMLElement).hidden = !unreviewed;
  showLine("lacks", lacks);
  showLine("lost", lost);
}

/**
 * Shows all ways to hand the bundle over.
 * @param {import("./hand_view.js").Handover | null} handover
 * @param {Draft} draft
 * @param {Speech} speech
 */
export function showHandover(handover, draft, speech) {
  part("hand", HTMLElement).hidden = handover === null;
  part("print", HTMLAnchorElement).href = handover ? `${handover.sheet}&print` : "";
  part("preview", HTMLAnchorElement).href = handover ? handover.sheet : "";
  const second = part("print-second", HTMLAnchorElement);
  second.hidden = !handover?.second;
  second.href = handover?.second ? `${handover.second}&print` : "";
  second.textContent = speech.say("clinician.print_second", { language: speech.nameOf(draft.sheet.second) });
  part("link", HTMLInputElement).value = handover?.link ?? "";
  const chart = part("chart", HTMLTextAreaElement);
  chart.value = handover?.chart ?? "";
  chart.rows = Math.min(12, chart.value.split("\n").length + 1);
  showQr(part("qr", HTMLElement), handover, speech);
}

/** @param {string[] | null} lines  what changed since the last visit; null where none was opened */
export function showDifference(lines) {
  part("since", HTMLElement).hidden = !lines;
  part("difference", HTMLUListElement).replaceChildren(...(lines ?? []).map((line) => make("li", {}, [line])));
}

/**
 * Shows what was found, each as a button that adds it.
 * @param {string[]} codes
 * @param {boolean} isThere  whether the search could be made
 * @param {string} note
 * @param {Book} book
 * @param {(code: string) => void} add
 */
export function showFound(codes, isThere, note, book, add) {
  const found = part("found", HTMLUListElement);
  found.replaceChildren(...codes.map((code) => {
    const { picture, title } = book.exercises[code];
    const button = makeButton("", () => add(code), { class: "found" });
    button.append(make("img", { src: picture, alt: "", width: "48", height: "48" }), title);
    return make("li", {}, [button]);
  }));
  found.hidden = codes.length === 0;
  part("find-unread", HTMLElement).hidden = isThere;
  part("find-note", HTMLElement).textContent = note;
}

/**
 * Shows the limits that can be ticked, each with its phases.
 * @param {Draft} draft
 * @param {Book} book
 * @param {Speech} speech
 * @param {(slug: string, phase: number | null) => void} tick
 */
export function showLimits(draft, book, speech, tick) {
  const focused = document.activeElement?.id ?? "";
  const { ticked, others } = sortLimits(draft, book);
  part("limits", HTMLElement).hidden = book.limits.length === 0;
  part("limit-list", HTMLUListElement).replaceChildren(...[...ticked, ...others].map((limit) => limitRow(limit, draft, speech, tick)));
  if (ticked.length) part("limits", HTMLDetailsElement).open = true;
  if (focused.startsWith("limit-")) document.getElementById(focused)?.focus();
}

/**
 * @param {import("./book.js").Limit} limit
 * @param {Draft} draft
 * @param {Speech} speech
 * @param {(slug: string, phase: number | null) => void} tick
 * @returns {HTMLElement}
 */
function limitRow({ slug, name, phases, says, source }, draft, speech, tick) {
  const chosen = lookUp(draft.limits, slug);
  const box = /** @type {HTMLInputElement} */ (make("input", { type: "checkbox", id: `limit-${slug}` }));
  box.checked = chosen !== undefined;
  box.addEventListener("change", () => tick(slug, box.checked ? 0 : null));
  const row = make("li", {}, [make("label", {}, [box, make("span", {}, [name])])]);
  if (chosen === undefined) return row;
  if (phases.length > 1) {
    const choice = /** @type {HTMLSelectElement} */ (make("select", { id: `limit-phase-${slug}`, "aria-label": speech.say("clinician.limit_phase") }));
    phases.forEach((phase, place) => choice.append(make("option", { value: String(place) }, [phase.name])));
    choice.value = String(chosen);
    choice.addEventListener("change", () => tick(slug, Number(choice.value)));
    row.append(choice);
  }
  row.append(make("p", { class: "note" }, [says]), make("p", { class: "note" }, [speech.say("clinician.limit_source", { source })]));
  return row;
}

/**
 * Fills the choice of what to start from.
 * @param {{label: string, options: {value: string, title: string}[]}[]} groups
 */
export function showStarts(groups) {
  const option = (/** @type {{value: string, title: string}} */ { value, title }) => make("option", { value }, [title]);
  part("start", HTMLSelectElement).append(...groups.map(({ label, options }) => make("optgroup", { label }, options.map(option))));
}

/** @param {string} words  why nothing was opened; none takes the last ones away */
export function refuse(words) {
  const note = part("paste-note", HTMLElement);
  note.textContent = words;
  note.classList.toggle("refused", words !== "");
}

/** @param {string[]} lines  which exercises of an opened bundle keep a former dose */
export function showFormer(lines) {
  part("paste-note", HTMLElement).append(...lines.map((line) => make("span", {}, [`${line} `])));
}

/** What is said of an old link must not wait below the screen. */
export function bringPasteNoteUp() {
  const note = part("paste-note", HTMLElement);
  if (note.classList.contains("refused")) note.scrollIntoView({ block: "center" });
  else if (note.textContent) announce(note.textContent);
}
