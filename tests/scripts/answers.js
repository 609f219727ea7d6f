/**
 * What modules of the page answer to what Python gives: the tests of Python compare it with its own (tests/scripts/node.py).
 * Each function takes what was given and returns what can be JSON.
 */

import { readFileSync } from "node:fs";
import { namesOf, totalsOf, wholeDose } from "../../templates/scripts/src/bundle/book.js";
import { chartText } from "../../templates/scripts/src/bundle/chart.js";
import { checkPicks, sayForChart } from "../../templates/scripts/src/bundle/checks.js";
import { FIELDS, encodeBundle, isRefusal, unsetFields } from "../../templates/scripts/src/bundle/code.js";
import { decodeBundle } from "../../templates/scripts/src/bundle/former_code.js";
import { doseFacts, doseParts, spanLine, turnLine } from "../../templates/scripts/src/bundle/dose_words.js";
import { setField } from "../../templates/scripts/src/bundle/draft.js";
import { fhirPlan } from "../../templates/scripts/src/bundle/fhir.js";
import { findFixes, swapMissing } from "../../templates/scripts/src/bundle/home.js";
import { isLogCode, readLogCode, setsOfStages, writeLog } from "../../templates/scripts/src/bundle/log_code.js";
import { movesOf, sayDifference } from "../../templates/scripts/src/bundle/next_visit.js";
import { fillPages } from "../../templates/scripts/src/bundle/packing_rows.js";
import { choose } from "../../templates/scripts/src/bundle/sheet_fit.js";
import { drawQr } from "../../templates/scripts/src/bundle/qr.js";
import { sayRefusal } from "../../templates/scripts/src/bundle/refusals.js";
import { doseSentence, valueTyped } from "../../templates/scripts/src/bundle/sentence.js";
import { Speech } from "../../templates/scripts/src/bundle/speech.js";
import { applyRules, growths, stageDoses, stageLines } from "../../templates/scripts/src/bundle/stages.js";
import { placeOf, readyPhrase, stepName } from "../../templates/scripts/src/bundle/steps.js";
import { orderSession } from "../../templates/scripts/src/bundle/sums.js";
import { tickTables } from "../../templates/scripts/src/bundle/ticks.js";
import { exactWeight, shownSpan, shownWeight, typedWeight } from "../../templates/scripts/src/bundle/weight.js";
import { countEach, passes } from "../../templates/scripts/src/filters.js";
import { fold, formsOf, splitWords } from "../../templates/scripts/src/fold.js";
import { monthOf } from "../../templates/scripts/src/phone/log.js";
import { planSession } from "../../templates/scripts/src/phone/plan.js";
import { missingFor, searchExercises } from "../../templates/scripts/src/search.js";

/**
 * Length of a plan in seconds as the prescription counts it: without leads, turns and without exercises of unknown length.
 * @param {import("../../templates/scripts/src/phone/plan.js").Step[]} plan
 * @returns {number}
 */
function planSeconds(plan) {
  const unknown = new Set(plan.filter((step) => step.seconds === null).map((step) => step.exercise));
  return plan.reduce((sum, step) => {
    const counts = step.kind === "begin" || (["work", "rest", "warm", "cool"].includes(step.kind) && !unknown.has(step.exercise));
    return counts ? sum + (step.seconds ?? 0) : sum;
  }, 0);
}

/** Of each plan its doses, its lines, its growth a week, and what a rule gives for its first dose. */
function stages({ words, cases }) {
  const speech = new Speech(words);
  return cases.map(({ dose, range, own, rules }) => ({
    lines: stageLines(dose, own, 3, speech), growth: growths(dose, own).map((each) => Math.round(each * 1e6) / 1e6), applied: applyRules(dose, rules, range),
    last: stageDoses(dose, own).at(-1),
  }));
}

/** The sets of each exercise of a plan, by its stages. */
function stagedSets(plan, catalogue) {
  const { bundle, doses } = decodeBundle(plan, catalogue);
  return setsOfStages(doses.map((dose, at) => stageDoses(dose, bundle.picks[at].stages)));
}

/** Bundles as codes, and codes as bundles with the fields of their doses that a clinician may move. */
function codes({ catalogue, encode, decode }) {
  const names = FIELDS.map((field) => field.name);
  const thin = (dose) => Object.fromEntries(names.filter((name) => dose[name] !== undefined).map((name) => [name, dose[name]]));
  const read = (text) => {
    const found = decodeBundle(text, catalogue);
    return isRefusal(found) ? found : { ...found, doses: found.doses.map(thin) };
  };
  return { encoded: encode.map((bundle) => encodeBundle(bundle, catalogue)), decoded: decode.map(read) };
}

/** Logs as codes, and what those are read as; and what any text is read as that may be the code of a log. */
function logs({ catalogue, logs: wanted, texts }) {
  const plain = ({ fromFirst, today, all, sessions }) => ({ fromFirst, today, all, sessions });
  const read = (text) => {
    const found = readLogCode(text, catalogue);
    return "kind" in found ? found : { plan: encodeBundle(found.bundle, catalogue), ...plain(found) };
  };
  const written = wanted.map(({ plan, log }) => writeLog(plan, stagedSets(plan, catalogue), log));
  return { written, read: written.map(read), others: texts.map(read), asked: texts.map(isLogCode) };
}

/** Bundles as codes open them, with whole doses. */
function openings({ catalogue, codes: texts }) {
  return texts.map((text) => decodeBundle(text, catalogue));
}

/** Every word and number that is said of bundles, each beside the one before it. */
function twins({ book, bundles, ticked }) {
  const speech = new Speech(book.words);
  const limits = new Map(Object.entries(ticked));
  return bundles.map((bundle, at) => {
    const picked = bundle.picks.map((pick) => pick.code);
    const totals = totalsOf(bundle.picks, book, bundle.roundRest);
    const findings = sayForChart(checkPicks(bundle, book, totals, limits), book, speech);
    const earlier = picked.map((code) => book.exercises[code].before.map((other) => picked.indexOf(other)).filter((place) => place >= 0));
    const spans = (code) => Object.entries(book.exercises[code].range).filter(([name]) => !["tempo", "side", "effort"].includes(name));
    return {
      facts: bundle.picks.map((pick) => doseFacts(wholeDose(pick, book), speech).map((fact) => [fact.numeral, fact.word, fact.kind])),
      turns: bundle.picks.map((pick) => turnLine(wholeDose(pick, book), speech)),
      spans: picked.map((code) => spans(code).map(([name, span]) => spanLine(name, span, speech))),
      totals: [totals.seconds, totals.changes, totals.weekly, totals.equipment, totals.occasions],
      lines: bundle.picks.map((pick) => doseParts(wholeDose(pick, book), speech, namesOf(wholeDose(pick, book), book))),
      order: orderSession(picked.map((code) => book.exercises[code].position), earlier).map((place) => picked[place]),
      findings,
      difference: sayDifference(bundles[at - 1] ?? bundle, bundle, book, speech),
      chart: chartText(bundle, "CODE", book, speech, { limits: at % 2 ? ["New hip"] : [], findings }),
      fhir: fhirPlan(bundle, "CODE", book, speech),
    };
  });
}

/** What changed between two bundles. */
function difference({ book, before, after }) {
  return sayDifference(before, after, book, new Speech(book.words));
}

/** The easier and the harder exercises of one. */
function moves({ book, code, picked }) {
  return movesOf(code, book, picked);
}

function orders(cases) {
  return cases.map(({ positions, earlier }) => orderSession(positions, earlier));
}

function rowsOnPages([rows, front, page, gap]) {
  return fillPages(rows, front, page, gap);
}

function chosenPages(cases) {
  return cases.map(({ outs, low, wanted, little, steps, at }) => choose(outs, low, wanted, little, (step, out) => {
    const figure = at[out.join(",")] - steps * step;
    return figure < 0 ? null : figure;
  }));
}

function qrCodes(pairs) {
  return pairs.map(([address, code]) => drawQr(address, code));
}

function refusals({ book, wanted }) {
  return wanted.map((one) => sayRefusal(one, book, new Speech(book.words)));
}

/** Tables to tick of bundles, with this many boxes in a list. */
function ticks({ book, bundles, boxes }) {
  const row = (pick) => ({ name: book.exercises[pick.code].title, dose: wholeDose(pick, book), stages: pick.stages });
  return bundles.map((bundle) => tickTables(bundle.picks.map(row), bundle.weeks, boxes, new Speech(book.words)));
}

/** The dose of an exercise as a sentence with its fields; `change` of the dose, `forms` in place of phrases. */
function sentence({ book, code, change, forms }) {
  const entry = book.exercises[code];
  const speech = new Speech({ ...book.words, forms: { ...book.words.forms, ...forms } });
  const pieces = doseSentence({ ...entry.dose, ...change }, entry, book.terms, speech);
  return pieces.map((piece) => (typeof piece === "string" ? piece : `[${piece.field} ${piece.value}]`)).join("");
}

/** What a list begun from each origin says of its exercises. */
function origins({ book, bundles }) {
  return bundles.map(({ origin, codes: picked }) => {
    const place = placeOf(origin, book);
    const { cautions, step, name, lost } = place;
    const ready = picked.map((code) => readyPhrase(code, picked, place, book));
    return { ready, steps: picked.map((code) => stepName(code, place, book)), cautions, lines: step?.lines ?? [], name, lost };
  });
}

function weights({ weights: some, pairs }) {
  const both = (make) => [false, true].map(make);
  return [
    some.map((one) => both((pounds) => [shownWeight(one, pounds), exactWeight(one, pounds)])),
    pairs.map(([low, high]) => both((pounds) => shownSpan(low, high, pounds))),
    [[5, true], [5.005, true], [2.25, false]].map(([number, pounds]) => typedWeight(number, pounds)),
  ];
}

/** The field of a weight: what it shows, its bounds, what typed numbers become, and the weight in FHIR. */
function weightField(book) {
  const speech = new Speech(book.words);
  const entry = book.exercises.A222;
  const piece = doseSentence(entry.dose, entry, {}, speech).find((one) => one.field === "weight");
  const draft = { bundle: { language: "en", location: "main", weeks: 2, picks: [{ code: "A222", change: {} }] } };
  const after = (typed) => {
    const next = setField(draft, "A222", "weight", valueTyped(piece, typed, entry, speech), book);
    return next.bundle ? wholeDose(next.bundle.picks[0], book).weight : next.kind;
  };
  const weight = fhirPlan(draft.bundle, "CODE", book, speech).contained[0].extension.find((one) => one.url.endsWith("weight"));
  return [piece.value, piece.bounds, [2.5, 3, 4.5, 5, 0.5, 3.005, 0.91, 4.54].map(after), weight.valueQuantity];
}

function sessionSeconds({ rows, policy, rests }) {
  return rows.map((some, at) => planSeconds(planSession(some, policy, rests[at])));
}

/** Days of the month by week, for a year, a month and the first day of the week. */
function months(cases) {
  const text = (year, month) => `${year}-${String(month).padStart(2, "0")}-10`;
  return cases.map(([year, month, first]) => monthOf(text(year, month), first).map((week) => week.map((day) => Number(day.slice(-2)))));
}

/** All that queries find in an index with no other slices than they ask for. */
function found({ head, words, scripts, queries }) {
  for (const script of [head, words, ...scripts]) (0, eval)(script);
  const { handoutsIndex: index, handoutsSlices: all, handoutsTerms } = globalThis;
  return queries.map((query) => {
    const there = {};
    let terms;
    for (let round = 0; round < 3; round += 1) {
      const lacks = missingFor(index, there, terms, query);
      for (const at of lacks.slices) there[index.starts[at]] = all[index.starts[at]];
      if (lacks.terms) terms = handoutsTerms;
    }
    const rest = missingFor(index, there, terms, query);
    if (rest.terms || rest.slices.length) throw new Error(`never ready: ${query}`);
    return searchExercises(index, there, terms, query);
  });
}

/** What filters count and let through, of rows of values. */
function filtered(cases) {
  return cases.map(({ rows, wanted }) => {
    const sets = rows.map((row) => Object.fromEntries(Object.entries(row).map(([name, values]) => [name, new Set(values)])));
    const asked = new Map(Object.entries(wanted));
    const counts = Array.from(countEach(sets, asked), ([name, own]) => [name, Object.fromEntries(own)]);
    return { counts: Object.fromEntries(counts), passing: sets.filter((row) => passes(row, asked)).length };
  });
}

function foldedWords(vectors) {
  return vectors.map(({ text, language }) => {
    const words = splitWords(text, true);
    return { words, forms: words.map((word) => formsOf(word, language)), index: splitWords(text, false) };
  });
}

function folded(texts) {
  return texts.map((text) => [fold(text), splitWords(text, false)]);
}

/** The fields that are still to be filled in, of doses where the library has none. */
function unset(cases) {
  return cases.map(({ dose, range }) => unsetFields(dose, { dose: { ...dose, sets: 0 }, range }));
}

/** What is said of drafts where something is missing at home, and the drafts with what takes its place. */
function home({ cases, book }) {
  return cases.map(({ draft, missing }) => ({ fixes: findFixes(draft, missing, book), swapped: swapMissing(draft, missing, book) }));
}

const answers = { home, stages, unset, codes, openings, logs, twins, difference, moves, orders, rowsOnPages, chosenPages, qrCodes, refusals, ticks, sentence, origins, weights, weightField, sessionSeconds, months, found, filtered, foldedWords, folded };
console.log(JSON.stringify(answers[process.argv[2]](JSON.parse(readFileSync(0, "utf8")))));
