/**
 * The clinician's page as values: the draft with what came before it, what an address or a pasted text asks for, and all that
 * follows from a draft, in words.  Pure; `main.js` keeps the state and `view.js` shows it.
 */

import { most_rest as MOST_REST, most_weeks as MOST_WEEKS, parts as PARTS } from "../../../../handouts/bundle/code.json";
import { refusePart } from "./addition.js";
import { hasOrigin, pickedEntry, totalsOf, wholeDose } from "./book.js";
import { laterMinutes, sayByOccasion, sayTotals } from "./chart.js";
import { addUpImpact, impactGrowths, sayImpact } from "./impact.js";
import { checkPicks, sayForChart, saySize } from "./checks.js";
import { isRefusal, lookUp, refuseGiven, unsetFields } from "./code.js";
import { decodeBundle } from "./former_code.js";
import { addPick, emptyDraft, setField, setGiven, setPart, setSubstitutes, startFrom, tickedFindings } from "./draft.js";
import { isLogCode, readLogCode } from "./log_code.js";
import { roundEven } from "./round.js";
import { growths, refuseStages } from "./stages.js";
import { originOf, placeOf } from "./steps.js";
import { substitutesOf } from "./substitutes.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./code.js").Bundle} Bundle */
/** @typedef {import("./code.js").Refusal} Refusal */
/** @typedef {import("./draft.js").Draft} Draft */
/** @typedef {import("./speech.js").Speech} Speech */
/**
 * @typedef {{draft: Draft, past: Draft[], typing: Draft | null, given: Bundle | null, visit: import("./log_code.js").Visit | null, asked: string[], conditions: string[], missing: import("./home.js").Missing}} State
 * `past`: earlier drafts, the last one last; `typing`: the draft before a number that is being typed; `given`: what was given at
 * the last visit; `visit`: the log that the patient shows, kept nowhere else; `asked`: the cautions about which the patient was asked, `conditions`: what the patient has, `missing`: what is missing at home, all kept nowhere else.
 * @typedef {{sums: string[], findings: import("./checks.js").Findings, order: string, side: string, size: string[], chart: string[], toCheck: number, unreviewed: boolean, lacks: string, lost: string}} Facts
 * What follows from the picks and their doses; a bundle that lacks something cannot be handed over.  `order`, `side` and `size` are
 * sentences; `chart` what the chart says was pointed out; `toCheck` how many findings are left.
 * @typedef {{kind: "exercise", code: string} | {kind: "refused", refusal: Refusal} | {kind: "opened", bundle: Bundle, former: string[], visit: import("./log_code.js").Visit | null}} Opening
 * @typedef {{add: string} | {start: import("./book.js").Start} | {open: string}} Wish
 */

const MOST_UNDONE = 100;
const MOST_FOUND = 8;
const MOST_STARTS = 3;

/**
 * @param {Draft} draft
 * @returns {State}
 */
export function beginState(draft) {
  return { draft, past: [], typing: null, given: null, visit: null, asked: [], conditions: [], missing: { things: [], floor: false } };
}

/**
 * The draft that this tab was left with, as far as it can still be read.
 * @param {string} text
 * @param {Book} book
 * @param {string} location
 * @returns {Draft}
 */
export function readDraft(text, book, location) {
  const fresh = emptyDraft(book, location);
  try {
    const kept = JSON.parse(text);
    const opened = decodeBundle(String(kept.code), book);
    const bundle = isRefusal(opened) ? unfinished(fresh, kept.bundle, book) : opened.bundle;
    if (!bundle) return fresh;
    const limits = Object.fromEntries(book.limits.filter(({ slug }) => Number.isInteger(lookUp(kept.limits, slug))).map(({ slug }) => [slug, kept.limits[slug]]));
    const sheet = { ...fresh.sheet };
    if (book.papers.includes(kept.sheet.paper)) sheet.paper = kept.sheet.paper;
    if (book.sizes.includes(kept.sheet.size)) sheet.size = kept.sheet.size;
    if (kept.sheet.layout === "page") sheet.layout = "page";
    sheet.line = kept.sheet.line === true;
    if (book.tongues.some(({ tag }) => tag === kept.sheet.second)) sheet.second = kept.sheet.second;
    return { bundle, limits, sheet };
  } catch {
    return fresh;
  }
}

/**
 * A bundle that has no code yet as this tab kept it: every part is asked for anew, and what the library does not have is left out.
 * @param {Draft} fresh
 * @param {any} kept
 * @param {Book} book
 * @returns {import("./code.js").Bundle | null}
 */
function unfinished(fresh, kept, book) {
  if (!kept) return null;
  const bundle = { ...fresh.bundle };
  if (book.tongues.some(({ tag }) => tag === kept.language)) bundle.language = kept.language;
  if (book.clinic.locations.some(({ slug }) => slug === kept.location)) bundle.location = kept.location;
  if (Number.isInteger(kept.weeks) && kept.weeks >= 1 && kept.weeks <= MOST_WEEKS) bundle.weeks = kept.weeks;
  const origin = kept.origin && book.starts.find((one) => one.origin?.kind === kept.origin.kind && one.origin?.slug === kept.origin.slug && one.origin?.step === kept.origin.step)?.origin;
  if (kept.origin && !origin) return null;
  if (origin) bundle.origin = origin;
  if (Number.isInteger(kept.roundRest) && kept.roundRest > 0 && kept.roundRest <= MOST_REST) bundle.roundRest = kept.roundRest;
  let next = { ...fresh, bundle };
  for (const code of Array.isArray(kept.given) ? kept.given : []) if (lookUp(book.handed, code)) next = setGiven(next, code, true);
  for (const { code, change, substitutes, part } of kept.picks) {
    next = addPick(next, code, book);
    if (PARTS.includes(part)) next = setPart(next, code, part);
    if (Array.isArray(substitutes)) next = setSubstitutes(next, code, substitutesOf({ substitutes }, book.substitutes).map(({ mark }) => mark));
    for (const [name, value] of Object.entries(change)) {
      const set = setField(next, code, name, /** @type {number | string} */ (value), book);
      if (!("kind" in set)) next = set;
    }
  }
  return next.bundle;
}

/**
 * @param {Draft} draft
 * @param {string} code  its code; none where it has none yet, so that the bundle itself is kept
 * @returns {string}
 */
export function writeDraft({ bundle, limits, sheet }, code) {
  return JSON.stringify({ code, ...(code ? {} : { bundle }), limits, sheet });
}

/**
 * Takes a new draft over, so that the old one can be had again.
 * @param {State} state
 * @param {Draft} next
 * @returns {State}
 */
export function take(state, next) {
  if (next === state.draft) return state;
  return { ...state, draft: next, past: [...state.past, state.draft].slice(-MOST_UNDONE) };
}

/**
 * @param {State} state
 * @returns {State}
 */
export function undo(state) {
  const before = state.past.at(-1);
  return before ? { ...state, draft: before, past: state.past.slice(0, -1) } : state;
}

/**
 * Sets a field of a dose; while it is being typed only what was there before the first key can be had again.
 * @param {State} state
 * @param {{code: string, name: string, value: number | string, done: boolean}} typed
 * @param {Book} book
 * @returns {{state: State, refused: Refusal | null}}
 */
export function typeField(state, { code, name, value, done }, book) {
  const next = setField(state.draft, code, name, value, book);
  const refused = "kind" in next ? next : null;
  const draft = "kind" in next ? null : next;
  if (!done) return { state: { ...state, typing: state.typing ?? state.draft, draft: draft ?? state.draft }, refused };
  const before = { ...state, draft: state.typing ?? state.draft, typing: null };
  return { state: draft ? take(before, draft) : before, refused };
}

/**
 * Notes that the patient was asked about a caution, or takes that back.
 * @param {State} state
 * @param {string} slug
 * @param {boolean} isAsked
 * @returns {State}
 */
export function noteAsked(state, slug, isAsked) {
  const others = state.asked.filter((one) => one !== slug);
  return { ...state, asked: isAsked ? [...others, slug] : others };
}

/**
 * Notes that the patient has a condition, or takes that back; no draft holds it, so that nothing keeps it and nothing undoes it.
 * @param {State} state
 * @param {string} slug
 * @param {boolean} isTicked
 * @returns {State}
 */
export function tickCondition(state, slug, isTicked) {
  const others = state.conditions.filter((one) => one !== slug);
  return { ...state, conditions: isTicked ? [...others, slug] : others };
}

/**
 * What follows from a draft.
 * @param {Draft} draft
 * @param {Book} book
 * @param {Speech} speech
 * @param {string[]} [asked]  the cautions about which the patient was asked
 * @returns {Facts}
 */
export function factsOf(draft, book, speech, asked = []) {
  const { bundle } = draft;
  const totals = totalsOf(bundle.picks, book, bundle.roundRest);
  const codes = bundle.picks.map((pick) => pick.code);
  const tongue = book.tongues.find(({ tag }) => tag === bundle.language);
  const language = tongue?.name ?? "";
  const lacking = codes.filter((code) => tongue?.lacks.includes(code)).map((code) => book.exercises[code].title);
  const ungiven = (bundle.given ?? []).filter((code) => tongue?.lost.includes(`given/${code}`)).map((code) => book.handed[code][0]);
  const misplaced = bundle.picks.filter((pick) => refusePart(pick.code, pick.part ?? "", wholeDose(pick, book)));
  const unsaid = bundle.picks.flatMap((pick) => substitutesOf(pick, book.substitutes)).filter(({ mark }) => tongue?.lost.includes(`substitute/${mark}`));
  const open = bundle.picks.filter((pick) => unsetFields(wholeDose(pick, book), pickedEntry(pick, book)).length);
  const reasons = [
    open.length ? speech.say("clinician.no_dose", { exercises: speech.join(open.map(({ code }) => book.exercises[code].title)) }) : "",
    lacking.length ? speech.say("clinician.language_lacks", { language, exercises: speech.join(lacking) }) : "",
    ungiven.length ? speech.say("clinician.language_lacks_more", { language, what: speech.join(ungiven) }) : "",
    ...misplaced.map(({ code }) => speech.say("clinician.part_refused", { exercise: book.exercises[code].title })),
    unsaid.length ? speech.say("clinician.language_lacks_more", { language, what: unsaid.map(({ line }) => line).join(" ") }) : "",
    ...bundle.picks.filter((pick) => stagesLate(pick, bundle.weeks, book)).map(({ code }) => speech.say("clinician.stage_refused", { exercise: book.exercises[code].title })),
    codes.length && !hasOrigin(bundle, tongue) ? speech.say("clinician.language_lacks_origin", { language }) : "",
  ];
  const { lost } = placeOf(originOf(bundle), book);
  const findings = checkPicks(bundle, book, totals, tickedFindings(draft, book));
  const { against, asks, early, unsided } = findings;
  const growth = sayGrowth(bundle, book, speech);
  const size = [...saySize(findings, codes.length, totals, book, speech), ...growth];
  return {
    sums: codes.length ? [...sumUp(bundle, totals, book, speech), ...sayImpact(addUpImpact(bundle.picks.map((pick) => wholeDose(pick, book))), speech), ...laterMinutes(bundle, book, speech).map(([week, minutes]) => speech.say("paper.session_later", { n: speech.number(week), minutes }))] : [],
    findings,
    side: unsided.length ? speech.say("clinician.check_side", { exercises: speech.join(unsided.map((code) => book.exercises[code].title)) }) : "",
    order: early.length ? speech.count("clinician.check_order", early.length, { exercises: speech.join(early.map((code) => book.exercises[code].title)) }) : "",
    size,
    chart: [...sayForChart(findings, book, speech), ...growth],
    toCheck: against.length + asks.filter(({ slug }) => !asked.includes(slug)).length + (early.length ? 1 : 0) + (unsided.length ? 1 : 0) + size.length,
    unreviewed: tongue?.unreviewed === true,
    lacks: reasons.filter(Boolean).join(" "),
    lost: lost && codes.length ? speech.say(`clinician.lost_${lost}`) : "",
  };
}

/**
 * Whether the stages of a pick no longer fit its dose, or the weeks.
 * @param {import("./code.js").Pick} pick
 * @param {number} weeks
 * @param {Book} book
 * @returns {boolean}
 */
function stagesLate(pick, weeks, book) {
  const entry = book.exercises[pick.code];
  return refuseStages(pick.code, wholeDose(pick, book), pick.stages ?? [], weeks, (dose) => refuseGiven(pick.code, dose, pick.base ?? entry.dose, entry, book)) !== null;
}

/**
 * What grows faster than the clinic's bound.
 * @param {Bundle} bundle
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string[]}
 */
function sayGrowth({ picks }, book, speech) {
  const most = book.growth ?? Infinity;
  const impact = impactGrowths(picks.map((pick) => ({ dose: wholeDose(pick, book), stages: pick.stages ?? [] }))).filter(({ percent }) => percent > most);
  const together = impact.map(({ week, isRunning, percent }) => speech.say(isRunning ? "clinician.check_running" : "clinician.check_landings", { n: speech.number(week), percent: speech.number(roundEven(percent)), most: speech.number(most) }));
  return [...picks.flatMap((pick) => {
    const fastest = Math.max(0, ...growths(wholeDose(pick, book), pick.stages ?? []));
    if (fastest <= most) return [];
    return [speech.say("clinician.check_growth", { exercise: book.exercises[pick.code].title, percent: speech.number(roundEven(fastest)), most: speech.number(most) })];
  }), ...together];
}

/**
 * What the picks add up to, as the parts of one line.
 * @param {Bundle} bundle
 * @param {import("./sums.js").SessionTotals} totals
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string[]}
 */
function sumUp({ picks, roundRest }, totals, book, speech) {
  const minutes = (/** @type {string} */ id, /** @type {number} */ seconds) => speech.count(id, Math.max(1, roundEven(seconds / 60)));
  const session = totals.unknown.length ? sayTotals(picks, book, speech, roundRest)[0] : minutes("clinician.short_session", totals.seconds);
  const weekly = totals.weekly ? [minutes("clinician.short_weekly", totals.weekly)] : [];
  const things = totals.equipment.map((slug) => book.terms.equipment[slug]);
  const occasions = totals.occasions.map((at) => book.exercises[picks[at].code].title);
  return [speech.count("clinician.exercises", picks.length), ...(occasions.length < picks.length ? [session] : []), ...weekly, ...sayByOccasion(occasions, speech), ...(things.length ? [speech.join(things)] : [])];
}

/**
 * Ticks a limit in one of its phases, or takes the tick away.
 * @param {Draft} draft
 * @param {string} slug
 * @param {number | null} phase
 * @returns {Draft}
 */
export function tickLimit(draft, slug, phase) {
  const { [slug]: _, ...others } = draft.limits;
  return { ...draft, limits: phase === null ? others : { ...draft.limits, [slug]: phase } };
}

/**
 * The exercises found that can be added, the best first.
 * @param {number[] | null} ranked  places in the order of the page
 * @param {string[]} order  the code of each place
 * @param {Draft} draft
 * @param {Book} book
 * @returns {string[]}
 */
export function pickable(ranked, order, draft, book) {
  const picked = new Set(draft.bundle.picks.map((pick) => pick.code));
  return (ranked ?? []).map((at) => order[at]).filter((code) => lookUp(book.exercises, code) && !picked.has(code)).slice(0, MOST_FOUND);
}

/**
 * What can be started from among what was found: ready-made bundles, and steps of programmes.
 * @param {number[]} ranked  places in the order of the page
 * @param {string[]} order  behind the codes `programme/SLUG` and `bundle/SLUG`
 * @param {Book} book
 * @returns {import("./book.js").Start[]}
 */
export function startsFound(ranked, order, book) {
  const named = ranked.map((at) => order[at]);
  return named.flatMap((name) => book.starts.filter(({ picks, origin }) => picks.length > 0 && `${origin?.kind}/${origin?.slug}` === name)).slice(0, MOST_STARTS);
}

/** @typedef {{title: string, href: string}} Other  a page that holds no exercise: a test, advice, a lesson */

/**
 * The pages that hold no exercise among what was found.
 * @param {number[]} ranked  places in the order of the page
 * @param {string[]} order  what stands before them
 * @param {Other[]} others
 * @returns {Other[]}
 */
export function othersFound(ranked, order, others) {
  return ranked.flatMap((at) => others[at - order.length] ?? []).slice(0, MOST_STARTS);
}

/**
 * What can be started from, by group: ready-made bundles, steps, and bundles kept in this browser.
 * @param {Book} book
 * @param {string[]} kept  codes
 * @param {Speech} speech
 * @returns {{label: string, options: {value: string, title: string}[]}[]}
 */
export function startGroups(book, kept, speech) {
  const ready = [["bundle", "clinician.start_bundles"], ["tier", "clinician.start_tiers"]].map(([group, heading]) => ({
    label: speech.say(heading),
    options: book.starts.flatMap((one, at) => (one.group === group && one.picks.length ? [{ value: String(at), title: one.title }] : [])),
  }));
  const own = kept.flatMap((code) => {
    const opened = decodeBundle(code, book);
    return isRefusal(opened) ? [] : [{ value: code, title: speech.join(opened.bundle.picks.map((pick) => book.exercises[pick.code].title)) }];
  });
  return [...ready, { label: speech.say("clinician.start_kept"), options: own }].filter(({ options }) => options.length);
}

/**
 * The draft that begins from a choice of `startGroups`; the same draft where there is none.
 * @param {string} value
 * @param {Draft} draft
 * @param {Book} book
 * @returns {Draft}
 */
export function startChosen(value, draft, book) {
  const ready = book.starts[Number(value)];
  if (ready) return startFrom(draft, ready);
  const opened = decodeBundle(value, book);
  return isRefusal(opened) ? draft : { ...draft, bundle: opened.bundle };
}

/**
 * What a code or a link stands for: an exercise, a bundle, or a log with its plan.
 * @param {string} text
 * @param {Book} book
 * @returns {Opening}
 */
export function openText(text, book) {
  const single = text.replace(/[\s-]/g, "").toUpperCase();
  if (lookUp(book.exercises, single)) return { kind: "exercise", code: single };
  const gone = lookUp(book.withdrawn, single);
  if (gone) {
    const refusal = { kind: "withdrawn", exercise: single, value: gone.title };
    return { kind: "refused", refusal: gone.by === null ? refusal : { ...refusal, replacedBy: gone.by } };
  }
  const visit = isLogCode(text) ? readLogCode(text, book) : null;
  const opened = visit ?? decodeBundle(text, book);
  if ("kind" in opened) return { kind: "refused", refusal: opened };
  return { kind: "opened", bundle: opened.bundle, former: opened.former, visit: visit && !("kind" in visit) ? visit : null };
}

/**
 * What an address asks for: ``#add=CODE``, ``#start=CODE,CODE`` or a bundle code.
 * @param {string} hash
 * @param {Book} book
 * @returns {Wish | null}
 */
export function readWish(hash, book) {
  const wish = hash.slice(1);
  if (!wish) return null;
  const [name, value] = wish.split("=");
  if (name === "add" && lookUp(book.exercises, value)) return { add: value };
  if (name !== "start" || value === undefined) return { open: wish };
  const wanted = value.split(",");
  const ready = book.starts.find((one) => one.picks.map((pick) => pick.code).join() === wanted.join());
  const picks = wanted.filter((code) => lookUp(book.exercises, code)).map((code) => ({ code, change: {} }));
  return { start: ready ?? { title: "", group: "tier", weeks: 0, picks } };
}
