/** What is to be checked before a bundle goes home: three ranks, and what puts it right. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { totalsOf } from "../../templates/scripts/src/bundle/book.js";
import { checkPicks, putInOrder, sayForChart, saySize } from "../../templates/scripts/src/bundle/checks.js";
import { addPick, emptyDraft, settlePicks, startFrom, tickedFindings } from "../../templates/scripts/src/bundle/draft.js";
import { factsOf, noteAsked, beginState, tickLimit } from "../../templates/scripts/src/bundle/state.js";
import { BOOK, VOICE } from "./book.js";

const EMPTY = emptyDraft(BOOK, "mill");
const draftOf = (codes, book = BOOK) => codes.reduce((draft, code) => addPick(draft, code, book), EMPTY);
const codesOf = (draft) => draft.bundle.picks.map(({ code }) => code);
const check = (draft, book = BOOK) => checkPicks(draft.bundle, book, totalsOf(draft.bundle.picks, book), tickedFindings(draft, book));
const alter = (changes) => ({ ...BOOK, exercises: Object.fromEntries(Object.entries(BOOK.exercises).map(([code, entry]) => [code, { ...entry, ...changes[code] }])) });

test("one exercise in front of what it builds on is named; in the right order, or both picked, nothing is said", () => {
  assert.deepEqual(check(draftOf(["RASE", "STND"])).early, ["RASE"]);
  assert.deepEqual(check(draftOf(["STND", "RASE"])).early, []);
  assert.deepEqual(codesOf(settlePicks(draftOf(["RASE", "WALK", "STND"]), BOOK)), ["WALK", "STND", "RASE"]);
});

test("what builds on one another in a ring stays as it is", () => {
  assert.deepEqual(putInOrder(["RASE", "STND"], alter({ STND: { before: ["RASE"] } })), ["RASE", "STND"]);
});

test("the order of a ready-made bundle is its author's; what the clinician changes in it is pointed out", () => {
  const start = { title: "Own order", group: "bundle", weeks: 1, picks: [{ code: "RASE", change: {} }, { code: "STND", change: {} }], origin: { kind: "bundle", slug: "own", step: 0 } };
  const book = { ...alter({ WALK: { before: ["STND"] } }), starts: [...BOOK.starts, start] };
  const begun = startFrom(EMPTY, start);
  assert.deepEqual(check(begun, book).early, []);
  const more = { ...begun, bundle: { ...begun.bundle, picks: [{ code: "WALK", change: {} }, ...begun.bundle.picks] } };
  assert.deepEqual(check(more, book).early, ["WALK"]);
  assert.deepEqual(check({ ...begun, bundle: { ...begun.bundle, origin: undefined } }, book).early, ["RASE"]);
});

test("against a ticked limit: its name, why, and the nearest easier one that keeps to it", () => {
  const [hip] = BOOK.limits;
  const limit = { ...hip, phases: [{ name: "first", found: { RASE: "bends too far", STND: "bends too far too" } }] };
  const book = { ...alter({ RASE: { easier: [["STND", ""]] }, STND: { easier: [["", "higher seat"], ["WALK", ""]] } }), limits: [limit] };
  const draft = tickLimit(draftOf(["RASE"], book), "hip", 0);
  assert.deepEqual(check(draft, book).against, [{ code: "RASE", found: [{ limit: "New hip", text: "bends too far" }], easier: "WALK" }]);
  assert.equal(check(tickLimit(draftOf(["RASE", "WALK"], book), "hip", 0), book).against[0].easier, "");
  assert.deepEqual(check(draftOf(["RASE"], book), book).against, []);
  assert.deepEqual(sayForChart(check(draft, book), book, VOICE), ["clinician.check_limit Raise New hip bends too far"]);
});

test("a condition to ask about is one line with its exercises; asked, it is counted no more and still in the chart", () => {
  const book = { ...alter({ RASE: { ask: ["new-hip"] }, WALK: { ask: ["new-hip", "heart"] } }), cautions: { "new-hip": { when: "New hip." }, heart: { when: "Heart." } }, policy: { ...BOOK.policy, exercises: 3 } };
  const draft = draftOf(["WALK", "RASE"], book);
  assert.deepEqual(check(draft, book).asks, [{ slug: "new-hip", when: "New hip.", codes: ["WALK", "RASE"] }, { slug: "heart", when: "Heart.", codes: ["WALK"] }]);
  const state = noteAsked(noteAsked(beginState(draft), "heart", true), "heart", true);
  assert.deepEqual([state.asked, noteAsked(state, "heart", false).asked], [["heart"], []]);
  const [before, after] = [factsOf(draft, book, VOICE), factsOf(draft, book, VOICE, state.asked)];
  assert.deepEqual([before.toCheck, after.toCheck, after.chart.length], [2, 1, 2]);
});

test("number and minutes are lines of their own, at the clinic's limit none", () => {
  const size = (codes, policy) => {
    const book = { ...BOOK, policy: { ...BOOK.policy, ...policy } };
    const draft = draftOf(codes, book);
    const totals = totalsOf(draft.bundle.picks, book);
    return saySize(check(draft, book), codes.length, totals, book, VOICE);
  };
  assert.deepEqual(size(["WALK", "RASE"], { exercises: 2 }), []);
  assert.deepEqual(size(["WALK", "RASE"], { exercises: 1 }), ["clinician.check_many 2 1"]);
  assert.deepEqual(size(["WALK"], { minutes: 20 }), []);
  assert.deepEqual(size(["WALK"], { minutes: 19 }), ["clinician.check_long dose.about_minutes 20 dose.minutes 19"]);
});
