/** The clinician's bundle page: takes what is done, keeps the draft and its history, shows everything anew. */

import { isReady, makeReady, search } from "../found.js";
import { part } from "../page.js";
import { hasOrigin, totalsOf } from "./book.js";
import { sayTotals } from "./chart.js";
import { checkPicks, sayFindings } from "./checks.js";
import { decodeBundle, encodeBundle, isRefusal, lookUp } from "./code.js";
import { make, makeButton } from "./dom.js";
import { addPick, emptyDraft, orderPicks, replacePick, setField, shiftPick, startFrom, takeOut, tickedFindings } from "./draft.js";
import { copyText, handOver, saveFile, showQr, showSheetSentence } from "./hand_view.js";
import { sayDifference } from "./next_visit.js";
import { keepPages } from "./offline.js";
import { refreshSentence, showPicks } from "./picks_view.js";
import { sayRefusal } from "./refusals.js";
import { offerScan, stopScan } from "./scan_view.js";
import { Speech } from "./speech.js";
import { originOf, placeOf } from "./steps.js";
import { keepBundle, keepDraftText, keepLocation, readDraftText, readKept, readLocation } from "./storage.js";

/** @typedef {import("./draft.js").Draft} Draft */

const MOST_UNDONE = 100;
const MOST_FOUND = 8;
const MOST_STARTS = 3;
const shelf = /** @type {any} */ (globalThis);
/** @type {import("./book.js").Book} */
const book = shelf.handoutsBook;
/** @type {string[]} the code of each exercise in the order of a search */
const order = shelf.handoutsOrder;
const speech = new Speech(book.words);

/** @type {Draft[]} */
const history = [];
let draft = readDraft();
/** @type {Draft | null} the draft before a number that is being typed */
let typing = null;
/** @type {import("./code.js").Bundle | null} what was given at the last visit */
let given = null;
/** @type {import("./hand_view.js").Handover | null} */
let handover = null;

const find = part("find", HTMLInputElement);
const found = part("found", HTMLUListElement);
const findNote = part("find-note", HTMLElement);
const start = part("start", HTMLSelectElement);
const list = part("picks", HTMLOListElement);
const said = part("said", HTMLElement);
const paste = part("paste", HTMLInputElement);
const chart = part("chart", HTMLTextAreaElement);
const link = part("link", HTMLInputElement);

/** @returns {Draft} the draft that this tab was left with, as far as it can still be read */
function readDraft() {
  const fresh = emptyDraft(book, readLocation());
  try {
    const kept = JSON.parse(readDraftText());
    const opened = decodeBundle(String(kept.code), book);
    if (isRefusal(opened)) return fresh;
    const limits = Object.fromEntries(book.limits.filter(({ slug }) => Number.isInteger(lookUp(kept.limits, slug))).map(({ slug }) => [slug, kept.limits[slug]]));
    const sheet = { ...fresh.sheet };
    if (book.papers.includes(kept.sheet.paper)) sheet.paper = kept.sheet.paper;
    if (book.sizes.includes(kept.sheet.size)) sheet.size = kept.sheet.size;
    if (kept.sheet.layout === "compact") sheet.layout = "compact";
    sheet.line = kept.sheet.line === true;
    if (book.tongues.some(({ tag }) => tag === kept.sheet.second)) sheet.second = kept.sheet.second;
    return { bundle: opened.bundle, limits, sheet };
  } catch {
    return fresh;
  }
}

/**
 * Takes a new draft over, so that the old one can be had again.
 * @param {Draft} next
 * @param {string} [words]  read out by a screen reader
 */
function take(next, words) {
  if (next === draft) return;
  remember(next);
  show();
  if (words) said.textContent = words;
}

/** @param {Draft} next */
function remember(next) {
  history.push(draft);
  if (history.length > MOST_UNDONE) history.shift();
  draft = next;
  part("undo", HTMLButtonElement).disabled = false;
}

/** Shows the draft everywhere. */
function show() {
  showPicks(list, draft, book, speech, { set: setDose, shift, out, replace });
  const { picks } = draft.bundle;
  part("none", HTMLElement).hidden = picks.length > 0;
  part("order", HTMLButtonElement).disabled = picks.length < 3;
  part("undo", HTMLButtonElement).disabled = history.length === 0;
  showLimits();
  showSheetSentence(part("sheet", HTMLElement), draft, book, speech, {
    bundle: (change) => {
      if (change.location) keepLocation(change.location);
      take({ ...draft, bundle: { ...draft.bundle, ...change } });
    },
    sheet: (change) => take({ ...draft, sheet: { ...draft.sheet, ...change } }),
  });
  part("line", HTMLInputElement).checked = draft.sheet.line;
  showSums();
}

/** Shows what follows from the picks and their doses. */
function showSums() {
  const { bundle } = draft;
  const totals = totalsOf(bundle.picks, book);
  const codes = bundle.picks.map((pick) => pick.code);
  const findings = sayFindings(checkPicks(codes, book, totals, tickedFindings(draft, book)), codes.length, totals, book, speech);
  const sums = codes.length ? [speech.count("clinician.exercises", codes.length), ...sayTotals(bundle.picks, book, speech), speech.count("clinician.changes", totals.changes)] : [];
  part("totals", HTMLUListElement).replaceChildren(...sums.map((line) => make("li", {}, [line])));
  part("findings", HTMLUListElement).replaceChildren(...findings.map(({ look, text }) => make("li", { class: look }, [text])));
  part("look", HTMLElement).hidden = findings.length === 0;
  const tongue = book.tongues.find(({ tag }) => tag === bundle.language);
  part("unreviewed", HTMLElement).hidden = !tongue?.unreviewed;
  const lacking = codes.filter((code) => tongue?.lacks.includes(code)).map((code) => book.exercises[code].title);
  const lacks = part("lacks", HTMLElement);
  const language = tongue?.name ?? "";
  const reasons = [
    lacking.length ? speech.say("clinician.language_lacks", { language, exercises: speech.join(lacking) }) : "",
    codes.length && !hasOrigin(bundle, tongue) ? speech.say("clinician.language_lacks_origin", { language }) : "",
  ].filter(Boolean);
  lacks.hidden = reasons.length === 0;
  lacks.textContent = reasons.join(" ");
  const { lost } = placeOf(originOf(bundle), book);
  part("lost", HTMLElement).hidden = !lost || !codes.length;
  part("lost", HTMLElement).textContent = lost ? speech.say(`clinician.lost_${lost}`) : "";
  handover = reasons.length ? null : handOver(draft, book, speech, findings.map(({ text }) => text));
  part("hand", HTMLElement).hidden = handover === null;
  part("print", HTMLAnchorElement).href = handover ? `${handover.sheet}&print` : "";
  part("preview", HTMLAnchorElement).href = handover ? handover.sheet : "";
  const second = part("print-second", HTMLAnchorElement);
  second.hidden = !handover?.second;
  second.href = handover?.second ? `${handover.second}&print` : "";
  second.textContent = speech.say("clinician.print_second", { language: speech.nameOf(draft.sheet.second) });
  link.value = handover?.link ?? "";
  chart.value = handover?.chart ?? "";
  chart.rows = Math.min(12, chart.value.split("\n").length + 1);
  showQr(part("qr", HTMLElement), handover, speech);
  showDifference();
  const kept = keepDraftText(JSON.stringify({ code: handover?.code ?? "", limits: draft.limits, sheet: draft.sheet }));
  part("no-storage", HTMLElement).hidden = kept;
}

/** Shows what changed since the last visit. */
function showDifference() {
  const lines = given ? sayDifference(given, draft.bundle, book, speech) : [];
  part("since", HTMLElement).hidden = !given;
  part("difference", HTMLUListElement).replaceChildren(...lines.map((line) => make("li", {}, [line])));
}

/**
 * @param {string} code
 * @param {string} name
 * @param {number | string} value
 * @param {boolean} done
 * @returns {import("./code.js").Refusal | null}
 */
function setDose(code, name, value, done) {
  const next = setField(draft, code, name, value, book);
  const refused = "kind" in next;
  if (!done) {
    typing ??= draft;
    if (!refused) draft = next;
    showSums();
    return refused ? next : null;
  }
  draft = typing ?? draft;
  typing = null;
  if (!refused) remember(next);
  const pick = draft.bundle.picks.find((one) => one.code === code);
  if (refused || (pick && refreshSentence(pick, book, speech))) showSums();
  else show();
  return refused ? next : null;
}

/**
 * @param {string} code
 * @param {number} step
 */
function shift(code, step) {
  const next = shiftPick(draft, code, step);
  const place = next.bundle.picks.findIndex((pick) => pick.code === code) + 1;
  take(next, speech.say("clinician.said_place", { exercise: book.exercises[code].title, n: speech.number(place) }));
  const button = document.getElementById(`${step < 0 ? "up" : "down"}-${code}`) ?? document.getElementById(`${step < 0 ? "down" : "up"}-${code}`);
  button?.focus();
}

/** @param {string} code */
function out(code) {
  const at = draft.bundle.picks.findIndex((pick) => pick.code === code);
  take(takeOut(draft, code), speech.say("clinician.said_out", { exercise: book.exercises[code].title }));
  const next = draft.bundle.picks[Math.min(at, draft.bundle.picks.length - 1)];
  (next ? document.getElementById(`out-${next.code}`) : find)?.focus();
}

/**
 * @param {string} code
 * @param {string} target
 */
function replace(code, target) {
  take(replacePick(draft, code, target), speech.say("clinician.said_added", { exercise: book.exercises[target].title }));
  document.getElementById(`out-${target}`)?.focus();
}

/** @param {string} code */
function add(code) {
  take(addPick(draft, code, book), speech.say("clinician.said_added", { exercise: book.exercises[code].title }));
  find.value = "";
  showFound();
}

/**
 * @param {number[]} places
 * @returns {string[]} codes of the exercises among what was found, the best first, without those picked
 */
function codesAt(places) {
  const picked = new Set(draft.bundle.picks.map((pick) => pick.code));
  return places.map((at) => order[at]).filter((code) => lookUp(book.exercises, code) && !picked.has(code)).slice(0, MOST_FOUND);
}

/**
 * @param {number[]} places
 * @returns {import("./book.js").Start[]} what one may start from among what was found: bundles, and steps of programmes
 */
function startsAt(places) {
  const names = places.map((at) => order[at]);
  return names.flatMap((name) => book.starts.filter(({ picks, origin }) => picks.length > 0 && `${origin?.kind}/${origin?.slug}` === name)).slice(0, MOST_STARTS);
}

/**
 * Shows what was found, each exercise as a button that adds it; a bundle or a step of a programme starts the picks anew.
 * @returns {Promise<string[]>} the codes that fit; none where something else was typed meanwhile, or the search is not there
 */
async function showFound() {
  const query = find.value;
  const isThere = isReady(query) || (await makeReady(query));
  if (find.value !== query) return [];
  const all = isThere ? search(query) : null;
  const codes = codesAt(all?.fitting ?? []);
  const close = codesAt(all?.close ?? []);
  const starts = startsAt(all?.fitting ?? []);
  found.replaceChildren(...codes.map(foundRow));
  found.hidden = codes.length === 0;
  showMore("close", close.map(foundRow));
  showMore("found-starts", starts.map((one) => make("li", {}, [makeButton(one.title, () => {
    take(startFrom(draft, one), one.title);
    find.value = "";
    showFound();
    find.focus();
  }, { class: "found" })])));
  part("find-unread", HTMLElement).hidden = isThere;
  const nothing = query.trim() && isThere && !codes.length && !starts.length;
  findNote.textContent = nothing ? speech.say("clinician.found_none") : all && codes.length ? speech.count("clinician.exercises", codes.length) : speech.say("clinician.find_hint");
  return codes;
}

/**
 * @param {string} code
 * @returns {HTMLElement} the row of a found exercise
 */
function foundRow(code) {
  const { picture, title } = book.exercises[code];
  const button = makeButton("", () => {
    add(code);
    find.focus();
  }, { class: "found" });
  button.append(make("img", { src: picture, alt: "", width: "48", height: "48" }), title);
  return make("li", {}, [button]);
}

/**
 * @param {string} id  of the group
 * @param {HTMLElement[]} some
 */
function showMore(id, some) {
  const group = part(id, HTMLElement);
  group.querySelector("ul")?.replaceChildren(...some);
  group.hidden = some.length === 0;
}

/** Shows the limits that can be ticked, each with its phases. */
function showLimits() {
  const focused = document.activeElement?.id ?? "";
  part("limits", HTMLElement).hidden = book.limits.length === 0;
  const ticked = book.limits.filter(({ slug }) => lookUp(draft.limits, slug) !== undefined);
  const others = book.limits.filter((limit) => !ticked.includes(limit));
  part("limit-list", HTMLUListElement).replaceChildren(...[...ticked, ...others].map(limitRow));
  if (ticked.length) part("limits", HTMLDetailsElement).open = true;
  if (focused.startsWith("limit-")) document.getElementById(focused)?.focus();
}

/**
 * @param {import("./book.js").Limit} limit
 * @returns {HTMLElement}
 */
function limitRow(limit) {
  const chosen = lookUp(draft.limits, limit.slug);
  const box = /** @type {HTMLInputElement} */ (make("input", { type: "checkbox", id: `limit-${limit.slug}` }));
  box.checked = chosen !== undefined;
  const rest = () => Object.fromEntries(Object.entries(draft.limits).filter(([slug]) => slug !== limit.slug));
  box.addEventListener("change", () => take({ ...draft, limits: box.checked ? { ...rest(), [limit.slug]: 0 } : rest() }));
  const row = make("li", {}, [make("label", {}, [box, make("span", {}, [limit.name])])]);
  if (chosen === undefined) return row;
  if (limit.phases.length > 1) {
    const phases = /** @type {HTMLSelectElement} */ (make("select", { id: `limit-phase-${limit.slug}`, "aria-label": speech.say("clinician.limit_phase") }));
    limit.phases.forEach((phase, place) => phases.append(make("option", { value: String(place) }, [phase.name])));
    phases.value = String(chosen);
    phases.addEventListener("change", () => take({ ...draft, limits: { ...draft.limits, [limit.slug]: Number(phases.value) } }));
    row.append(phases);
  }
  row.append(make("p", { class: "note" }, [limit.says]), make("p", { class: "note" }, [speech.say("clinician.limit_source", { source: limit.source })]));
  return row;
}

/** Fills the choice of what to start from. */
function showStarts() {
  const groups = [["bundle", "clinician.start_bundles"], ["tier", "clinician.start_tiers"]];
  for (const [group, heading] of groups) {
    const options = book.starts.map((one, at) => ({ one, at })).filter(({ one }) => one.group === group && one.picks.length);
    if (options.length) start.append(make("optgroup", { label: speech.say(heading) }, options.map(({ one, at }) => make("option", { value: String(at) }, [one.title]))));
  }
  const kept = readKept().map((code) => ({ code, opened: decodeBundle(code, book) }));
  const readable = kept.flatMap(({ code, opened }) => (isRefusal(opened) ? [] : [{ code, titles: opened.bundle.picks.map((pick) => book.exercises[pick.code].title) }]));
  if (readable.length) {
    start.append(make("optgroup", { label: speech.say("clinician.start_kept") }, readable.map(({ code, titles }) => make("option", { value: code }, [speech.join(titles)]))));
  }
}

/**
 * Opens a code or a link: shows what was given, and takes it as the draft.
 * @param {string} text
 */
function open(text) {
  stopScan();
  const single = text.replace(/[\s-]/g, "").toUpperCase();
  if (lookUp(book.exercises, single)) {
    refuse("");
    paste.value = "";
    add(single);
    return;
  }
  const gone = lookUp(book.withdrawn, single);
  if (gone) {
    const found = { kind: "withdrawn", exercise: single, value: gone.title };
    refuse(sayRefusal(gone.by === null ? found : { ...found, replacedBy: gone.by }, book, speech));
    return;
  }
  const opened = decodeBundle(text, book);
  if (isRefusal(opened)) {
    refuse(sayRefusal(opened, book, speech));
    return;
  }
  const note = part("paste-note", HTMLElement);
  refuse("");
  given = opened.bundle;
  paste.value = "";
  for (const code of opened.former) note.append(make("span", {}, [speech.say("clinician.former_dose", { exercise: book.exercises[code].title }), " "]));
  take({ ...draft, bundle: opened.bundle });
  showDifference();
}

/** @param {string} words  why nothing was opened; none takes the last ones away */
function refuse(words) {
  const note = part("paste-note", HTMLElement);
  note.textContent = words;
  note.classList.toggle("refused", words !== "");
}

/**
 * Opens the first bundle among what was read from codes; says why where there is none.
 * @param {string[]} texts
 */
function openScanned(texts) {
  const results = texts.map((text) => ({ text, opened: decodeBundle(text, book) }));
  const { text, opened } = results.find((result) => !isRefusal(result.opened)) ?? results[0];
  if (isRefusal(opened) && opened.kind === "damaged") refuse(speech.say("clinician.scan_refused"));
  else open(text);
}

/** Does what the address asks for: ``#add=CODE``, ``#start=CODE,CODE`` or a bundle code. */
function readAddress() {
  const wish = location.hash.slice(1);
  if (!wish) return;
  window.history.replaceState(null, "", location.pathname + location.search);
  const [name, value] = wish.split("=");
  if (name === "add" && lookUp(book.exercises, value)) add(value);
  else if (name === "start") {
    const wanted = value.split(",");
    const ready = book.starts.find((one) => one.picks.map((pick) => pick.code).join() === wanted.join());
    take(startFrom(draft, ready ?? { title: "", group: "tier", weeks: 0, picks: wanted.filter((code) => lookUp(book.exercises, code)).map((code) => ({ code, change: {} })) }));
  } else {
    open(wish);
    // what is said of an old link must not wait below the screen
    const note = part("paste-note", HTMLElement);
    if (note.classList.contains("refused")) note.scrollIntoView({ block: "center" });
    else if (note.textContent) said.textContent = note.textContent;
  }
}

/**
 * @param {string} id
 * @param {() => void} act
 */
function onPress(id, act) {
  part(id, HTMLButtonElement).addEventListener("click", act);
}

/**
 * @param {string} id
 * @param {() => string} text
 */
function onCopy(id, text) {
  onPress(id, async () => {
    if (await copyText(text())) said.textContent = part("copied", HTMLElement).textContent = speech.say("clinician.said_copied");
  });
}

find.addEventListener("input", showFound);
find.addEventListener("keydown", async (event) => {
  if (event.key === "Enter") {
    event.preventDefault();
    const [first] = await showFound();
    if (first) add(first);
  } else if (event.key === "ArrowDown") {
    event.preventDefault();
    foundButtons()[0]?.focus();
  }
});
/** @returns {HTMLButtonElement[]} everything found that can be pressed, in order */
function foundButtons() {
  return Array.from(document.querySelectorAll(".maker-find button.found"));
}

part("maker-find", HTMLElement).addEventListener("keydown", (event) => {
  const buttons = foundButtons();
  const at = buttons.findIndex((button) => button === event.target);
  const step = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
  if (!step || at < 0) return;
  event.preventDefault();
  (buttons[at + step] ?? (step < 0 ? find : buttons[at]))?.focus();
});
start.addEventListener("change", () => {
  const ready = book.starts[Number(start.value)];
  if (ready) take(startFrom(draft, ready));
  else if (start.value) {
    const opened = decodeBundle(start.value, book);
    if (!isRefusal(opened)) take({ ...draft, bundle: opened.bundle });
  }
  start.value = "";
});
onPress("order", () => take(orderPicks(draft, book)));
onPress("undo", () => {
  const before = history.pop();
  if (!before) return;
  draft = before;
  show();
});
onPress("clear", () => {
  given = null;
  take(emptyDraft(book, draft.bundle.location));
  find.focus();
});
part("line", HTMLInputElement).addEventListener("change", (event) => {
  take({ ...draft, sheet: { ...draft.sheet, line: /** @type {HTMLInputElement} */ (event.target).checked } });
});
onCopy("copy-link", () => link.value);
onCopy("copy-code", () => handover?.code ?? "");
onCopy("copy-chart", () => chart.value);
onPress("fhir", () => saveFile(`bundle-${handover?.code.slice(-7)}.fhir.json`, handover?.fhir ?? "", "application/fhir+json"));
onPress("keep", () => {
  const code = encodeBundle(draft.bundle, book);
  if (typeof code === "string" && keepBundle(code)) said.textContent = part("copied", HTMLElement).textContent = speech.say("clinician.said_kept");
});
onPress("save", () => saveFile(`bundle-${handover?.code.slice(-7)}.txt`, `${handover?.link}\n`, "text/plain"));
onPress("load", () => part("file", HTMLInputElement).click());
part("file", HTMLInputElement).addEventListener("change", async (event) => {
  const file = /** @type {HTMLInputElement} */ (event.target).files?.[0];
  if (file) open((await file.slice(0, 8000).text()).trim());
});
offerScan(speech, { open: openScanned, refuse });
onPress("open", () => open(paste.value));
paste.addEventListener("keydown", (event) => {
  if (event.key === "Enter") open(paste.value);
});
document.addEventListener("keydown", (event) => {
  if (!event.altKey || event.ctrlKey || event.metaKey || !event.code.startsWith("Key")) return;
  const target = document.querySelector(`[aria-keyshortcuts="Alt+${event.code.slice(3)}"]`);
  if (!(target instanceof HTMLElement) || target.offsetParent === null) return;
  event.preventDefault();
  if (target instanceof HTMLAnchorElement) target.click();
  else if (target.tagName === "SUMMARY") part("limits", HTMLDetailsElement).open = true;
  target.focus();
});
addEventListener("hashchange", readAddress);

/** Keeps the pages for use without a connection, and says so; offers a new version where there is one. */
function keepForLater() {
  const told = (/** @type {boolean} */ kept) => {
    part("offline", HTMLElement).textContent = kept ? speech.say("clinician.offline_kept") : "";
  };
  keepPages("../../worker.js", told, (use) => {
    part("update", HTMLElement).hidden = false;
    part("use-update", HTMLButtonElement).onclick = use;
  });
}

showStarts();
part("maker", HTMLElement).hidden = false;
show();
showFound();
if (document.activeElement === document.body) find.focus({ preventScroll: true });
readAddress();
keepForLater();
