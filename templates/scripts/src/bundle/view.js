/** What the clinician's page shows of its state, part by part; what is done there is told to `main.js`. */

import { part } from "../page.js";
import { namesOf, wholeDose } from "./book.js";
import { lookUp } from "./code.js";
import { make, makeButton } from "./dom.js";
import { doseParts, joinDoseParts, spanLine } from "./dose_words.js";
import { showQr, tickedNames } from "./hand_view.js";
import { fillPieces } from "./sentence.js";


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
 * @param {Speech} speech
 */
export function showFacts({ sums, toCheck, unreviewed, lacks, lost }, speech) {
  part("bar", HTMLElement).hidden = sums.length === 0;
  part("totals", HTMLElement).textContent = sums.join(" · ");
  const check = showLine("to-check", toCheck ? speech.count("clinician.to_check", toCheck) : "");
  if (toCheck) check.prepend(make("span", { class: "sign", "aria-hidden": "true" }));
  part("unreviewed", HTMLElement).hidden = !unreviewed;
  showLine("lacks", lacks);
  showLine("lost", lost);
}

/** @param {string} words  how many pages the sheet has, behind what all adds up to */
export function showPages(words) {
  part("pages", HTMLElement).textContent = ` · ${words}`;
}

/**
 * Shows what to check: what goes against a limit, then what to ask the patient, then the rest.
 * @param {import("./state.js").Facts} facts
 * @param {string[]} asked
 * @param {Book} book
 * @param {Speech} speech
 * @param {{asked: (slug: string, isAsked: boolean) => void, settle: () => void, nameSide: (side: string) => void}} acts
 */
export function showChecks({ findings, order, side, size }, asked, book, speech, acts) {
  const focused = document.activeElement?.id ?? "";
  const against = findings.against.map(({ code, found }) => {
    const limits = speech.join([...new Set(found.map(({ limit }) => limit))]);
    return make("li", {}, [make("a", { href: `#pick-${code}` }, [speech.say("clinician.against_line", { exercise: book.exercises[code].title, limits })])]);
  });
  const asks = findings.asks.map(({ slug, when, codes }) => {
    const box = /** @type {HTMLInputElement} */ (make("input", { type: "checkbox", id: `ask-${slug}` }));
    box.checked = asked.includes(slug);
    box.addEventListener("change", () => acts.asked(slug, box.checked));
    const note = make("span", { class: "note", title: speech.join(codes.map((code) => book.exercises[code].title)) }, [speech.count("clinician.exercises", codes.length)]);
    return make("li", {}, [make("label", {}, [box, make("span", {}, [`“${when}”`, " ", note])])]);
  });
  const put = order ? [make("li", {}, [order, " ", makeButton(speech.say("clinician.put_in_order"), acts.settle, { class: "quiet", id: "settle" })])] : [];
  const named = ["left", "right"].flatMap((one) => [" ", makeButton(speech.say(`clinician.${one}`), () => acts.nameSide(one), { class: "quiet", id: `side-${one}` })]);
  const sides = side ? [make("li", {}, [side, ...named])] : [];
  const others = [...put, ...sides, ...size.map((line) => make("li", {}, [line]))];
  showItems("against", against);
  showItems("asks", asks);
  part("asks-heading", HTMLElement).hidden = asks.length === 0;
  showItems("findings", others);
  part("look", HTMLElement).hidden = part("touched-part", HTMLElement).hidden && against.length + asks.length + others.length === 0;
  if (focused.startsWith("ask-")) document.getElementById(focused)?.focus();
}

/**
 * @param {string} id  of a list, hidden where it is empty
 * @param {HTMLElement[]} items
 */
function showItems(id, items) {
  const list = part(id, HTMLUListElement);
  list.replaceChildren(...items);
  list.hidden = items.length === 0;
}

/**
 * Shows all ways to hand the bundle over.
 * @param {import("./hand_view.js").Handover | null} handover
 * @param {Draft} draft
 * @param {Speech} speech
 */
export function showHandover(handover, draft, speech) {
  part("hand", HTMLElement).hidden = handover === null;
  const print = part("print", HTMLAnchorElement);
  print.hidden = handover === null;
  print.href = handover ? `${handover.sheet}&print` : "";
  part("preview", HTMLAnchorElement).href = handover ? handover.sheet : "";
  const second = part("print-second", HTMLAnchorElement);
  second.hidden = !handover?.second;
  second.href = handover?.second ? `${handover.second}&print` : "";
  second.textContent = speech.say("clinician.print_second", { language: speech.nameOf(draft.sheet.second) });
  part("link", HTMLInputElement).value = handover?.link ?? "";
  const patient = part("open-patient", HTMLAnchorElement);
  [patient.href, patient.target, patient.rel] = [handover?.here ?? "", "_blank", "noopener"];
  const chart = part("chart", HTMLTextAreaElement);
  chart.value = handover?.chart ?? "";
  chart.rows = Math.min(12, chart.value.split("\n").length + 1);
  showQr(part("qr", HTMLElement), handover, speech);
}

/**
 * Fills the screen with the QR code, so that it can be scanned off it; any key or a click takes it away.
 * @param {import("./hand_view.js").Handover | null} handover
 * @param {Speech} speech
 */
export function fillScreen(handover, speech) {
  if (!handover) return;
  const dialog = part("qr-large", HTMLDialogElement);
  showQr(part("qr-large-place", HTMLElement), handover, speech);
  dialog.onclick = () => dialog.close();
  dialog.onkeydown = (event) => {
    if (["Alt", "Shift", "Control", "Meta", "Tab"].includes(event.key)) return;
    event.preventDefault();
    dialog.close();
  };
  dialog.showModal();
}

/** @param {string[] | null} lines  what changed since the last visit; null where none was opened */
export function showDifference(lines) {
  part("since", HTMLElement).hidden = !lines;
  part("difference", HTMLUListElement).replaceChildren(...(lines ?? []).map((line) => make("li", {}, [line])));
}

/**
 * @typedef {object} Finds  what is shown below the search field
 * @property {string[]} codes of the exercises that fit
 * @property {string[]} close where none fits, of those that are close
 * @property {import("./book.js").Start[]} starts bundles and steps
 * @property {import("./state.js").Other[]} pages tests, advice and lessons
 * @property {boolean} isThere whether the search could be made
 * @property {string} note
 */

/**
 * Shows what was found, each exercise as a button that adds it, each bundle and step as one that starts the picks anew.
 * @param {Finds} finds
 * @param {Book} book
 * @param {boolean} isNext  whether one of them was added: then only what Enter would add next is shown, and the picks stay in view
 * @param {(code: string) => string} askFirst  the line of the conditions that touch an exercise; empty for none
 * @param {(code: string) => void} add
 * @param {(start: import("./book.js").Start) => void} begin
 */
export function showFound({ codes, close, starts, pages, isThere, note }, book, isNext, askFirst, add, begin) {
  const row = (/** @type {string} */ code) => {
    const { picture, title } = book.exercises[code];
    const ask = askFirst(code);
    const button = makeButton("", () => add(code), { class: "found" });
    button.append(make("img", { src: picture, alt: "", width: "48", height: "48" }), make("span", {}, [title, ...(ask ? [make("span", { class: "ask-first" }, [ask])] : [])]));
    return make("li", {}, [button]);
  };
  const found = part("found", HTMLUListElement);
  found.replaceChildren(...(isNext ? codes.slice(0, 1) : codes).map(row));
  found.hidden = codes.length === 0;
  showGroup("close", isNext ? [] : close.map(row));
  showGroup("found-starts", (isNext ? [] : starts).map((one) => make("li", {}, [makeButton(one.title, () => begin(one), { class: "found" })])));
  showGroup("found-pages", (isNext ? [] : pages).map(({ title, href }) => make("li", {}, [make("a", { href, class: "found" }, [title])])));
  part("find-unread", HTMLElement).hidden = isThere;
  part("find-note", HTMLElement).textContent = note;
}

/**
 * Shows a plan that is typed: its exercises with their doses, and the text with what was not understood underlined.
 * @param {import("./plan_text.js").Plan} plan
 * @param {string} text
 * @param {Book} book
 * @param {Speech} speech
 * @param {() => void} add
 */
export function showPlan(plan, text, book, speech, add) {
  const { picks, weeks, language } = plan.draft.bundle;
  const rows = [...new Set(plan.codes)].flatMap((code) => {
    const pick = picks.find((one) => one.code === code);
    const { picture, title } = book.exercises[code];
    if (!pick) return [];
    const whole = wholeDose(pick, book);
    const dose = joinDoseParts(doseParts(whole, speech, namesOf(whole, book)), speech);
    return [make("li", {}, [make("img", { src: picture, alt: "", width: "48", height: "48" }), make("span", {}, [make("b", {}, [title]), ` ${dose}`])])];
  });
  part("plan-list", HTMLUListElement).replaceChildren(...rows, make("li", {}, [[speech.count("clinician.weeks", weeks), speech.nameOf(language)].join(" · ")]));
  const pieces = [...plan.unread].sort((one, other) => one.from - other.from);
  const ends = [0, ...pieces.map(({ to }) => to)];
  const marked = pieces.flatMap(({ from, to }, at) => [text.slice(ends[at], from), make("u", {}, [text.slice(from, to)])]);
  part("plan-text", HTMLElement).replaceChildren(...marked, text.slice(ends[ends.length - 1]));
  part("plan-text", HTMLElement).hidden = pieces.length === 0;
  part("plan-unread", HTMLUListElement).replaceChildren(...sayUnread(plan, book, speech).map((line) => make("li", {}, [line])));
  const button = part("plan-add", HTMLButtonElement);
  button.textContent = speech.count("clinician.plan_add", rows.length);
  button.onclick = add;
  part("find-note", HTMLElement).textContent = "";
}

/** @param {string} words  how a plan may be typed */
export function showPlanHint(words) {
  showLine("plan-hint", words);
}

/** @param {boolean} isPlan  whether a plan is typed: nothing else is shown then */
export function hidePlan(isPlan) {
  part("plan", HTMLElement).hidden = !isPlan;
  if (!isPlan) return;
  for (const id of ["found", "close", "found-starts", "found-pages", "find-unread"]) part(id, HTMLElement).hidden = true;
}

/** @returns {boolean} whether a plan is shown that can be added */
export function hasPlan() {
  return !part("plan", HTMLElement).hidden;
}

/** @param {string[]} lines  what of a plan was left out, after the rest was added */
export function tellPlan(lines) {
  showLine("plan-told", lines.join(" "));
}

/**
 * What of a plan was not understood, or is not allowed.
 * @param {import("./plan_text.js").Plan} plan
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string[]}
 */
export function sayUnread({ unread }, book, speech) {
  const words = unread.filter(({ refusal }) => !refusal).map(({ text }) => `“${text}”`);
  const refused = unread.flatMap(({ text, refusal }) => {
    if (!refusal) return [];
    const { exercise, field, low, high } = refusal;
    if (!exercise) return [speech.say("clinician.plan_weeks", { words: text, low: speech.number(low ?? 0), high: speech.number(high ?? 0) })];
    const title = book.exercises[exercise].title;
    if (field === undefined || low === undefined || high === undefined || field === "effort") return [speech.say("clinician.plan_fixed", { exercise: title, words: text })];
    return [speech.say("clinician.plan_outside", { exercise: title, words: text, range: spanLine(field, [low, high], speech) })];
  });
  return [...(words.length ? [speech.say("clinician.plan_unread", { words: speech.join(words) })] : []), ...refused];
}

/**
 * @param {string} id  of a group with a heading
 * @param {HTMLElement[]} some
 */
function showGroup(id, some) {
  const group = part(id, HTMLElement);
  group.querySelector("ul")?.replaceChildren(...some);
  group.hidden = some.length === 0;
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
  part("limits", HTMLElement).hidden = book.limits.length === 0;
  const rows = book.limits.map((limit) => limitRow(limit, draft, book, speech, tick));
  const isTicked = (/** @type {unknown} */ _, /** @type {number} */ at) => lookUp(draft.limits, book.limits[at].slug) !== undefined;
  const ticked = rows.filter(isTicked);
  // With one ticked the others are one line that opens: what was found stays in view below.
  const others = rows.filter((row) => !ticked.includes(row));
  const folded = make("details", {}, [make("summary", {}, [speech.count("clinician.limits_more", others.length)]), make("ul", {}, others)]);
  part("limit-list", HTMLUListElement).replaceChildren(...(ticked.length && others.length ? [...ticked, make("li", {}, [folded])] : rows));
  showLine("ticked", speech.join(tickedNames(draft, book, speech)));
  if (focused.startsWith("limit-")) document.getElementById(focused)?.focus();
}

/**
 * @param {import("./book.js").Limit} limit
 * @param {Draft} draft
 * @param {Book} book
 * @param {Speech} speech
 * @param {(slug: string, phase: number | null) => void} tick
 * @returns {HTMLElement}
 */
function limitRow({ slug, name, phases, says, source }, draft, book, speech, tick) {
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
  row.append(make("p", { class: "note" }, [says]), make("p", { class: "note" }, fillPieces(speech.pieces("clinician.limit_source"), { source: [make("bdi", { lang: book.sourced }, [source])] })));
  return row;
}

/**
 * What stands beside the picks stays in view while these pass by: from its top where it fits, else down to its end.  An opened
 * list is brought into view.
 */
export function keepBesideInView() {
  const beside = part("beside", HTMLElement);
  const place = () => beside.style.setProperty("--beside", `${beside.offsetHeight}px`);
  new ResizeObserver(place).observe(beside);
  for (const id of ["limits", "conditions"]) {
    const list = part(id, HTMLDetailsElement);
    list.addEventListener("toggle", () => list.open && list.scrollIntoView({ block: "nearest" }));
  }
}

/**
 * Fills the choice of what to start from.
 * @param {{label: string, options: {value: string, title: string}[]}[]} groups
 */
export function showStarts(groups) {
  const option = (/** @type {{value: string, title: string}} */ { value, title }) => make("option", { value }, [title]);
  const start = part("start", HTMLSelectElement);
  start.replaceChildren(...Array.from(start.children).slice(0, 1), ...groups.map(({ label, options }) => make("optgroup", { label }, options.map(option))));
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
