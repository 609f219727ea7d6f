/** The clinician's bundle page: takes what is done, keeps the state, shows everything anew. */

import { isReady, makeReady, search } from "../found.js";
import { part } from "../page.js";
import { keepPicked, keepUpWithTabs, takeWishes } from "../picked.js";
import { encodeBundle, isRefusal, lookUp } from "./code.js";
import { decodeBundle } from "./former_code.js";
import { touching } from "./conditions.js";
import { clearConditions, offerConditions, showTouched } from "./conditions_view.js";
import { acceptRules, addPick, emptyDraft, nameSide, orderPicks, placePick, replacePick, setGiven, setPart, setStages, setSubstitutes, settlePicks, shiftPick, startFrom, takeOut } from "./draft.js";
import { showGiven } from "./given_view.js";
import { swapMissing } from "./home.js";
import { clearHome, FLOOR, offerHome, showHome } from "./home_view.js";
import { letDrag } from "./drag.js";
import { copyText, handOver, saveFile, showSheetSentence } from "./hand_view.js";
import { showLive, watchLive } from "./live_view.js";
import { isLogCode, readLogCode } from "./log_code.js";
import { sayDifference } from "./next_visit.js";
import { keepPages } from "./offline.js";
import { calledIn, codeInChart, exampleOf, isPlanText, namesIn, readPlan } from "./plan_text.js";
import { refreshSentence, sayAskFirst, showPicks } from "./picks_view.js";
import { sayRefusal } from "./refusals.js";
import { offerScan, stopScan } from "./scan_view.js";
import { Speech } from "./speech.js";
import { originOf, placeOf } from "./steps.js";
import { beginState, factsOf, noteAsked, openText, othersFound, pickable, readDraft, readWish, startChosen, startGroups, startsFound, take, tickCondition, tickLimit, typeField, undo, writeDraft } from "./state.js";
import { keepBundle, keepDraftText, keepLocation, readDraftText, readKept, readLocation } from "./storage.js";
import * as view from "./view.js";
import { sayProposal, sayVisit } from "./visit.js";
import { showVisit } from "./visit_view.js";

/** @typedef {import("./draft.js").Draft} Draft */

const handed = /** @type {any} */ (globalThis);
/** @type {import("./book.js").Book} */
const book = handed.handoutsBook;
/** @type {string[]} the code of each exercise in the order of a search */
const order = handed.handoutsOrder;
/** @type {import("./state.js").Other[]} the pages that a search counts behind these: tests, advice, lessons */
const others = handed.handoutsOthers;
const speech = new Speech(book.words);

let state = beginState(readDraft(readDraftText(), book, readLocation()));
/** @type {import("./hand_view.js").Handover | null} */
let handover = null;
/** Whether something was added of what the words in the search field find. */
let hasAdded = false;

const find = part("find", HTMLInputElement);
const start = part("start", HTMLSelectElement);
const list = part("picks", HTMLOListElement);
const paste = part("paste", HTMLInputElement);

/** @param {string} code */
const titleOf = (code) => book.exercises[code].title;

/**
 * Takes a new draft over and shows it.
 * @param {Draft} next
 * @param {string} [words]  read out by a screen reader
 */
function change(next, words) {
  if (next === state.draft) return;
  state = take(state, next);
  show();
  if (words) view.announce(words);
}

/** Shows the draft everywhere.  What is done there changes the draft of that moment, which may be a later one. */
function show() {
  const { draft } = state;
  showPicks(list, draft, book, speech, { set: setDose, shift, out, replace, stages: putStages, instead: takeInstead, part: putPart, roundRest: putRest }, factsOf(draft, book, speech).findings.against, (code) => touching(code, state.conditions, book));
  view.showButtons(draft.bundle.picks.length, state.past.length);
  part("weeks-rule", HTMLElement).hidden = !draft.bundle.picks.length || !placeOf(originOf(draft.bundle), book).programme?.rules;
  view.showLimits(draft, book, speech, (slug, phase) => change(tickLimit(state.draft, slug, phase)));
  showSheetSentence(part("sheet", HTMLElement), draft, book, speech, {
    bundle: (some) => {
      if (some.location) keepLocation(some.location);
      change({ ...state.draft, bundle: { ...state.draft.bundle, ...some } });
    },
    sheet: (some) => change({ ...state.draft, sheet: { ...state.draft.sheet, ...some } }),
  });
  part("line", HTMLInputElement).checked = draft.sheet.line;
  showGiven(draft, book, speech, handWith);
  showSums();
}

/** Shows what follows from the picks and their doses, and keeps the draft. */
function showSums() {
  const { draft } = state;
  const facts = factsOf(draft, book, speech, state.asked);
  handover = facts.lacks ? null : handOver(draft, book, speech, facts.chart, state.visit ? sayVisit(state.visit, book, speech) : []);
  const touched = showTouched(state.conditions, draft.bundle.picks.map(({ code }) => code), book, speech);
  const lacking = showHome(draft, state.missing, book, speech, { swap: replace, swapAll, instead: takeInstead });
  view.showFacts({ ...facts, toCheck: facts.toCheck + touched + lacking }, speech);
  view.showChecks(facts, state.asked, book, speech, { asked: noteAnswer, settle, nameSide: sayWhichSide });
  view.showHandover(handover, draft, speech);
  showLive(handover?.sheet ?? "");
  showDifference();
  keepPicked(draft.bundle.picks.map(({ code }) => code));
  part("no-storage", HTMLElement).hidden = keepDraftText(writeDraft(draft, handover?.code ?? ""));
}

function showDifference() {
  view.showDifference(state.given && sayDifference(state.given, state.draft.bundle, book, speech));
}

/**
 * @param {string} code
 * @param {string} name
 * @param {number | string} value
 * @param {boolean} done
 * @returns {import("./code.js").Refusal | null}
 */
function setDose(code, name, value, done) {
  const typed = typeField(state, { code, name, value, done }, book);
  state = typed.state;
  const { picks } = state.draft.bundle;
  const pick = picks.find((one) => one.code === code);
  // Which side it is goes into what stands at the exercise too.
  if (!done || typed.refused || (pick && name !== "side" && refreshSentence(pick, book, speech))) {
    if (done) view.showButtons(picks.length, state.past.length);
    showSums();
  } else show();
  return typed.refused;
}

/**
 * @param {string} code
 * @param {import("./stages.js").Stage[]} stages
 * @returns {boolean} whether they were taken over
 */
function putStages(code, stages) {
  const before = state.draft.bundle.picks.find((pick) => pick.code === code)?.stages?.length ?? 0;
  const next = setStages(state.draft, code, stages, book);
  if ("kind" in next) {
    const row = document.getElementById(`refused-${code}`);
    if (row) row.textContent = speech.say("clinician.stage_refused", { exercise: titleOf(code) });
    return false;
  }
  change(next, speech.count("clinician.said_stages", stages.length + 1, { exercise: titleOf(code) }));
  if (stages.length !== before) (document.getElementById(`stage-${code}-${stages.length - 1}`) ?? document.getElementById(`stage-${code}`))?.focus();
  return true;
}

/**
 * @param {string} code
 * @param {number} step
 */
function shift(code, step) {
  const next = shiftPick(state.draft, code, step);
  const place = next.bundle.picks.findIndex((pick) => pick.code === code) + 1;
  change(next, speech.say("clinician.said_place", { exercise: titleOf(code), n: speech.number(place) }));
  const button = document.getElementById(`${step < 0 ? "up" : "down"}-${code}`) ?? document.getElementById(`${step < 0 ? "down" : "up"}-${code}`);
  button?.focus();
}

/**
 * @param {HTMLElement} row
 * @param {number} place
 */
function drop(row, place) {
  const code = row.id.replace("pick-", "");
  change(placePick(state.draft, code, place), speech.say("clinician.said_place", { exercise: titleOf(code), n: speech.number(place + 1) }));
}

/** @param {string} code */
function out(code) {
  const at = state.draft.bundle.picks.findIndex((pick) => pick.code === code);
  change(takeOut(state.draft, code), speech.say("clinician.said_out", { exercise: titleOf(code) }));
  const { picks } = state.draft.bundle;
  const next = picks[Math.min(at, picks.length - 1)];
  (next ? document.getElementById(`out-${next.code}`) : find)?.focus();
}

/**
 * @param {string} slug  of a caution
 * @param {boolean} isAsked
 */
function noteAnswer(slug, isAsked) {
  state = noteAsked(state, slug, isAsked);
  showSums();
}

/**
 * @param {string} slug
 * @param {boolean} isTicked
 */
function noteCondition(slug, isTicked) {
  state = tickCondition(state, slug, isTicked);
  show();
  showFound();
}

/**
 * @param {string} name  of a thing, or the floor
 * @param {boolean} isTicked
 */
function noteMissing(name, isTicked) {
  const { things, floor } = state.missing;
  const others = things.filter((one) => one !== name);
  state = { ...state, missing: name === FLOOR ? { things, floor: isTicked } : { things: isTicked ? [...others, name] : others, floor } };
  showSums();
}

/**
 * Takes something in place of things that are missing, or nothing, and puts the focus at the exercise.
 * @param {string} code
 * @param {string[]} marks
 */
function takeInstead(code, marks) {
  const lines = book.substitutes.filter(({ mark }) => marks.includes(mark)).map(({ line }) => line);
  change(setSubstitutes(state.draft, code, marks), [titleOf(code), ...lines].join(". "));
  document.getElementById(`out-${code}`)?.focus();
}

/**
 * @param {string} code
 * @param {string} name  of a part of the session; empty for the main part
 */
function putPart(code, name) {
  const said = speech.say(`clinician.part_${name.replace("-", "_") || "main"}`);
  change(setPart(state.draft, code, name), `${titleOf(code)}. ${said}`);
}

/** @param {number} seconds  after each round */
function putRest(seconds) {
  const { roundRest: _, ...bundle } = state.draft.bundle;
  change({ ...state.draft, bundle: { ...bundle, ...(seconds ? { roundRest: seconds } : {}) } });
}

/**
 * @param {string} code  of a test or a leaflet
 * @param {boolean} isGiven
 */
function handWith(code, isGiven) {
  change(setGiven(state.draft, code, isGiven), [book.handed[code][0], ...(isGiven ? [] : [speech.say("clinician.take_out")])].join(". "));
  part("given-add", HTMLSelectElement).focus();
}

/** Takes another exercise in place of each that needs what is missing, where there is one; one press undoes all. */
function swapAll() {
  change(swapMissing(state.draft, state.missing, book), speech.say("clinician.home_swapped"));
  part("picks-heading", HTMLElement).focus();
}

/** Puts the picks in order, and the focus where the list begins. */
function settle() {
  change(settlePicks(state.draft, book), speech.say("clinician.said_order"));
  part("picks-heading", HTMLElement).focus();
}

/** @param {string} side  of every exercise that trains one, where nobody said which */
function sayWhichSide(side) {
  change(nameSide(state.draft, side, book), speech.say(`dose.side_${side}`));
  part("picks-heading", HTMLElement).focus();
}

/**
 * @param {string} code
 * @param {string} target
 */
function replace(code, target) {
  change(replacePick(state.draft, code, target), speech.say("clinician.said_added", { exercise: titleOf(target) }));
  document.getElementById(`out-${target}`)?.focus();
}

/**
 * Adds what was found.  The words stay, to be typed over: Enter adds the next of what they find, and whoever goes on to the
 * exercises leaves them behind.
 * @param {string} code
 */
function addFound(code) {
  change(addPick(state.draft, code, book), speech.say("clinician.said_added", { exercise: titleOf(code) }));
  hasAdded = true;
  find.focus();
  find.select();
  showFound();
}

/** Takes the words and what they found away, once something of it was added. */
function leaveFound() {
  if (!hasAdded) return;
  hasAdded = false;
  find.value = "";
  showFound();
}

/** @param {string} code */
function add(code) {
  change(addPick(state.draft, code, book), speech.say("clinician.said_added", { exercise: titleOf(code) }));
  find.value = "";
  showFound();
}

/** What languages, papers and type sizes are called in a plan. */
const called = calledIn(book, speech);

/**
 * The codes of the exercises that a name finds, the best first.
 * @param {string} name
 * @returns {string[]}
 */
function findByName(name) {
  const found = isReady(name) ? search(name) : null;
  return (found?.fitting ?? []).map((at) => order[at]).filter((code) => lookUp(book.exercises, code));
}

/** @returns {Promise<boolean>} whether what is typed is a plan with an exercise in it, which is shown */
async function showPlanTyped() {
  const text = find.value;
  if (!isPlanText(text, book)) return false;
  await Promise.all(namesIn(text).map((name) => isReady(name) || makeReady(name)));
  if (find.value !== text) return true;
  const plan = readPlan(text, state.draft, book, findByName, called);
  if (!plan.codes.length) return false;
  view.showPlan(plan, text, book, speech, addPlan);
  return true;
}

/** Takes the plan that is typed as picks; what was not understood stays in the field. */
function addPlan() {
  const plan = readPlan(find.value, state.draft, book, findByName, called);
  const told = view.sayUnread(plan, book, speech);
  change(plan.draft, [speech.count("clinician.exercises", plan.codes.length), ...told].join(". "));
  find.value = plan.unread.filter(({ refusal }) => !refusal).map(({ text }) => text).join(", ");
  showFound();
  view.tellPlan(told);
  find.focus();
}

/**
 * @returns {Promise<string[]>} the codes that fit; none where something else was typed meanwhile, or the search is not there
 */
async function showFound() {
  const query = find.value;
  const isPlan = await showPlanTyped();
  if (find.value !== query) return [];
  view.hidePlan(isPlan);
  const isThere = isReady(query) || (await makeReady(query));
  if (find.value !== query || isPlan) return [];
  const all = isThere ? search(query) : null;
  const codes = pickable(all?.fitting ?? null, order, state.draft, book);
  const close = pickable(all?.close ?? null, order, state.draft, book);
  const starts = startsFound(all?.fitting ?? [], order, book);
  const pages = othersFound(all?.fitting ?? [], order, others);
  const note = codes.length ? speech.count("clinician.exercises", codes.length) : speech.say(query.trim() && isThere && !starts.length && !pages.length && !all?.fitting.length ? "clinician.found_none" : "clinician.find_hint");
  view.showFound({ codes, close, starts, pages, isThere, note }, book, hasAdded, (code) => sayAskFirst(touching(code, state.conditions, book), speech), addFound, (one) => {
    change(startFrom(state.draft, one), one.title);
    find.value = "";
    showFound();
    find.focus();
  });
  return codes;
}

/**
 * Takes what a log proposes over into the list: more of an exercise that is still there, or another in its place.
 * @param {import("./visit.js").Proposal} proposal
 */
function useProposal(proposal) {
  const { code, field, value, target } = proposal;
  if (target) return replace(code, target);
  if (!field || value === undefined || setDose(code, field, value, true)) return;
  show();
  if (state.visit) view.announce(sayProposal(proposal, state.visit, book, speech));
  document.getElementById(`${field}-${code}`)?.focus();
}

/**
 * Opens a code or a link: shows what was given, and takes it as the draft.
 * @param {string} text
 */
function open(text) {
  stopScan();
  const opening = openText(codeInChart(text, book) || text, book);
  if (opening.kind === "refused") {
    view.refuse(sayRefusal(opening.refusal, book, speech));
    return;
  }
  view.refuse("");
  paste.value = "";
  if (opening.kind === "exercise") {
    add(opening.code);
    return;
  }
  state = { ...state, given: opening.bundle, visit: opening.visit };
  showVisit(opening.visit, book, speech, useProposal);
  view.showFormer(opening.former.map((code) => speech.say("clinician.former_dose", { exercise: titleOf(code) })));
  change({ ...state.draft, bundle: opening.bundle });
}

/**
 * Opens the first bundle among what was read from codes; says why where there is none.
 * @param {string[]} texts
 */
function openScanned(texts) {
  const results = texts.map((text) => ({ text, opened: isLogCode(text) ? readLogCode(text, book) : decodeBundle(text, book) }));
  const { text, opened } = results.find((result) => !("kind" in result.opened)) ?? results[0];
  if ("kind" in opened && opened.kind === "damaged") view.refuse(speech.say("clinician.scan_refused"));
  else open(text);
}

/** Adds what was wished for on other pages of the site. */
function addWishes() {
  const wishes = takeWishes();
  if (wishes.length) change(wishes.reduce((draft, code) => addPick(draft, code, book), state.draft));
}

/** Does what the address asks for, and takes it out of the address. */
function readAddress() {
  const wish = readWish(location.hash, book);
  if (!wish || document.getElementById(location.hash.slice(1))) return; // a link within the page asks for nothing
  history.replaceState(null, "", location.pathname + location.search);
  if ("add" in wish) add(wish.add);
  else if ("start" in wish) change(startFrom(state.draft, wish.start));
  else {
    open(wish.open);
    view.bringPasteNoteUp();
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
    if (await copyText(text())) view.confirmDone(speech.say("clinician.said_copied"));
  });
}

find.addEventListener("input", () => {
  hasAdded = false;
  view.tellPlan([]);
  showFound();
});
find.addEventListener("paste", (event) => {
  const text = event.clipboardData?.getData("text") ?? "";
  if (!/[\n\r]/.test(text.trim())) return;
  event.preventDefault();
  const code = codeInChart(text, book);
  if (code) open(code);
  else {
    find.value = text.trim().replace(/[\n\r]+/g, "; ");
    showFound();
  }
});
find.addEventListener("keydown", async (event) => {
  if (event.key === "Enter") {
    event.preventDefault();
    const [first] = await showFound();
    if (view.hasPlan()) addPlan();
    else if (first) addFound(first);
  } else if (event.key === "Tab" && !event.shiftKey) {
    leaveFound();
  } else if (event.key === "ArrowDown") {
    event.preventDefault();
    hasAdded = false;
    await showFound();
    foundButtons()[0]?.focus();
  }
});
let isPressed = false;
addEventListener("pointerdown", () => (isPressed = true), true);
for (const end of ["pointerup", "pointercancel"]) addEventListener(end, () => (isPressed = false), true);
part("maker-find", HTMLElement).addEventListener("focusout", ({ relatedTarget }) => {
  if (!(relatedTarget instanceof Node) || part("maker-find", HTMLElement).contains(relatedTarget)) return;
  // What is pressed stays under the pointer until it is let go.
  if (isPressed) addEventListener("pointerup", () => setTimeout(leaveFound), { once: true });
  else leaveFound();
});
/** @returns {HTMLButtonElement[]} everything found that can be pressed, in order */
function foundButtons() {
  return Array.from(part("maker-find", HTMLElement).querySelectorAll("button.found"));
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
  change(startChosen(start.value, state.draft, book));
  start.value = "";
});
letDrag(list, drop);
onPress("weeks-rule", () => {
  change(acceptRules(state.draft, placeOf(originOf(state.draft.bundle), book).programme?.rules ?? [], book), speech.say("clinician.rules_taken"));
});
onPress("order", () => change(orderPicks(state.draft, book)));
onPress("undo", () => {
  state = undo(state);
  show();
});
onPress("clear", () => {
  state = { ...state, given: null, visit: null, asked: [], conditions: [], missing: { things: [], floor: false } };
  clearConditions();
  clearHome();
  showVisit(null, book, speech, useProposal);
  change(emptyDraft(book, state.draft.bundle.location));
  find.focus();
});
part("line", HTMLInputElement).addEventListener("change", (event) => {
  const { checked } = /** @type {HTMLInputElement} */ (event.target);
  change({ ...state.draft, sheet: { ...state.draft.sheet, line: checked } });
});
onCopy("copy-link", () => handover?.link ?? "");
onCopy("copy-code", () => handover?.code ?? "");
onCopy("copy-chart", () => part("chart", HTMLTextAreaElement).value);
onPress("fhir", () => saveFile(`bundle-${handover?.code.slice(-7)}.fhir.json`, handover?.fhir ?? "", "application/fhir+json"));
onPress("keep", () => {
  const code = encodeBundle(state.draft.bundle, book);
  if (typeof code !== "string" || !keepBundle(code)) return;
  view.showStarts(startGroups(book, readKept(), speech));
  view.confirmDone(speech.say("clinician.said_kept"));
});
onPress("qr-show", () => view.fillScreen(handover, speech));
onPress("save", () => saveFile(`bundle-${handover?.code.slice(-7)}.txt`, `${handover?.link}\n`, "text/plain"));
onPress("load", () => part("file", HTMLInputElement).click());
part("file", HTMLInputElement).addEventListener("change", async (event) => {
  const file = /** @type {HTMLInputElement} */ (event.target).files?.[0];
  if (file) open((await file.slice(0, 8000).text()).trim());
});
offerScan(speech, { open: openScanned, refuse: view.refuse });
onPress("open", () => open(paste.value));
paste.addEventListener("keydown", (event) => {
  if (event.key === "Enter") open(paste.value);
});
document.addEventListener("keydown", (event) => {
  if (!event.altKey || event.ctrlKey || event.metaKey || !event.code.startsWith("Key")) return;
  const target = document.querySelector(`[aria-keyshortcuts="Alt+${event.code.slice(3)}"]`);
  if (!(target instanceof HTMLElement) || target.offsetParent === null) return;
  event.preventDefault();
  if (target instanceof HTMLAnchorElement || ["qr-show", "live-open"].includes(target.id)) target.click();
  else if (target.parentElement instanceof HTMLDetailsElement) target.parentElement.open = true;
  if (!document.querySelector("dialog[open]")) target.focus();
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

const example = exampleOf(order, book, speech);
view.showPlanHint(example && speech.say("clinician.plan_hint", { plan: example }));
view.showStarts(startGroups(book, readKept(), speech));
offerConditions(book, noteCondition);
offerHome(book, speech, noteMissing);
view.keepBesideInView();
watchLive((pages) => view.showPages(speech.count("clinician.pages", pages)));
show();
part("maker", HTMLElement).hidden = false;
showFound();
if (document.activeElement === document.body) find.focus({ preventScroll: true });
addWishes();
addEventListener("pageshow", addWishes);
keepUpWithTabs(addWishes);
readAddress();
keepForLater();
