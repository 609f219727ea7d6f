/** The state of the clinician's page: what can be undone, what a text or an address asks for, what follows from a draft. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { encodeBundle } from "../../templates/scripts/src/bundle/code.js";
import { addPick, emptyDraft } from "../../templates/scripts/src/bundle/draft.js";
import {
  beginState, factsOf, openText, othersFound, pickable, readDraft, readWish, startChosen, startGroups, startsFound, take, tickLimit, typeField, undo, writeDraft,
} from "../../templates/scripts/src/bundle/state.js";
import { BOOK, VOICE } from "./book.js";

const EMPTY = emptyDraft(BOOK, "mill");
const ONE = addPick(EMPTY, "RASE", BOOK);
const TWO = addPick(ONE, "STND", BOOK);
const codesOf = (draft) => draft.bundle.picks.map(({ code }) => code);
const typed = (value, done) => ({ code: "RASE", name: "sets", value, done });

test("each change can be undone, the last one first; the same draft is no change", () => {
  const begun = beginState(EMPTY);
  assert.equal(take(begun, EMPTY), begun);
  const state = take(take(begun, ONE), TWO);
  assert.deepEqual(state.past, [EMPTY, ONE]);
  assert.equal(undo(state).draft, ONE);
  assert.equal(undo(undo(state)).draft, EMPTY);
  assert.equal(undo(begun), begun);
});

test("at most a hundred changes are kept", () => {
  let state = beginState(EMPTY);
  for (let at = 0; at < 120; at += 1) state = take(state, { ...EMPTY, limits: { hip: at } });
  assert.equal(state.past.length, 100);
  assert.equal(state.past[0].limits.hip, 19);
});

test("while a number is typed only what was there before its first key can be had again", () => {
  let { state, refused } = typeField(beginState(TWO), typed(2, false), BOOK);
  assert.equal(refused, null);
  assert.deepEqual([state.draft.bundle.picks[0].change, state.past], [{ sets: 2 }, []]);
  ({ state, refused } = typeField(state, typed(20, false), BOOK));
  assert.deepEqual([refused.high, state.draft.bundle.picks[0].change], [4, { sets: 2 }]);
  ({ state } = typeField(state, typed(4, true), BOOK));
  assert.deepEqual([state.draft.bundle.picks[0].change, state.past, state.typing], [{ sets: 4 }, [TWO], null]);
});

test("a number that is refused in the end leaves the draft as it was before the first key", () => {
  const { state } = typeField(beginState(TWO), typed(2, false), BOOK);
  const end = typeField(state, typed(20, true), BOOK);
  assert.deepEqual([end.state.draft, end.state.past, end.refused.value], [TWO, [], 20]);
});

test("a draft is kept with its limits and its sheet, and read again", () => {
  const draft = { ...TWO, limits: { hip: 1 }, sheet: { paper: "a4", size: "large", layout: "compact", line: true, second: "es" } };
  const text = writeDraft(draft, encodeBundle(draft.bundle, BOOK));
  assert.deepEqual(readDraft(text, BOOK, "hill"), draft);
});

test("what cannot be read begins anew; what the book no longer has is left out", () => {
  for (const text of ["", "{", "null", "[]", '{"code": "23456"}', '{"code": 5}']) assert.deepEqual(readDraft(text, BOOK, "mill"), EMPTY, text);
  const kept = { code: encodeBundle(TWO.bundle, BOOK), limits: { hip: 1, gone: 0 }, sheet: { paper: "a9", size: 5, layout: "x", line: "yes", second: "xx" } };
  assert.deepEqual(readDraft(JSON.stringify(kept), BOOK, "hill"), { ...TWO, limits: { hip: 1 } });
});

test("limits are ticked in a phase", () => {
  const ticked = tickLimit(TWO, "hip", 0);
  assert.deepEqual(ticked.limits, { hip: 0 });
  assert.deepEqual(tickLimit(ticked, "hip", 1).limits, { hip: 1 });
  assert.deepEqual(tickLimit(ticked, "hip", null).limits, {});
});

test("what is found and not picked can be added; what the book does not have cannot", () => {
  const order = ["STND", "WALK", "GONE", "RASE"];
  assert.deepEqual(pickable([3, 2, 1, 0], order, ONE, BOOK), ["WALK", "STND"]);
  assert.deepEqual(pickable(null, order, ONE, BOOK), []);
});

test("a bundle that is found is a start, a programme gives its steps; at most three", () => {
  const [one, empty, step] = BOOK.starts;
  const programme = { kind: "programme", slug: "stairs" };
  const own = [{ ...one, origin: { kind: "bundle", slug: "first", step: 0 } }, { ...empty, origin: { ...programme, step: 1 } }];
  const book = { ...BOOK, starts: [...own, ...["2", "3", "4"].map((title, at) => ({ ...step, title, origin: { ...programme, step: at + 2 } }))] };
  const order = ["STND", "programme/stairs", "bundle/first", "bundle/gone"];
  assert.deepEqual(startsFound([0, 2, 1, 3], order, book).map(({ title }) => title), ["First days", "2", "3"]);
  assert.deepEqual(startsFound([0, 3], order, book), []);
});

test("a page that holds no exercise is found behind all that the order names; at most three", () => {
  const others = ["a", "b", "c", "d"].map((title) => ({ title, href: `${title}.html` }));
  assert.deepEqual(othersFound([0, 4, 2, 5, 3, 1, 9], ["STND", "programme/stairs"], others).map(({ title }) => title), ["c", "a", "d"]);
  assert.deepEqual(othersFound([0, 1], ["STND", "programme/stairs"], others), []);
});

test("starts come in groups without empty ones, own bundles last; one that cannot be read is left out", () => {
  const own = encodeBundle(TWO.bundle, BOOK);
  const groups = startGroups(BOOK, ["22222222", own], VOICE).map(({ label, options }) => [label, options.map(({ title }) => title)]);
  assert.deepEqual(groups, [["clinician.start_bundles", ["First days"]], ["clinician.start_tiers", ["Step 1"]], ["clinician.start_kept", ["Raise and Stand"]]]);
  assert.deepEqual(codesOf(startChosen("2", EMPTY, BOOK)), ["STND", "RASE"]);
  assert.deepEqual(startChosen(own, EMPTY, BOOK).bundle, TWO.bundle);
  assert.equal(startChosen("22222222", TWO, BOOK), TWO);
});

test("a text is an exercise, a withdrawn one, a bundle or refused", () => {
  assert.deepEqual(openText(" ra-se ", BOOK), { kind: "exercise", code: "RASE" });
  assert.deepEqual(openText("GNE2", BOOK).refusal, { kind: "withdrawn", exercise: "GNE2", value: "Gone" });
  assert.deepEqual(openText("GNE3", BOOK).refusal, { kind: "withdrawn", exercise: "GNE3", value: "Replaced", replacedBy: "STND" });
  const code = encodeBundle(TWO.bundle, BOOK);
  assert.deepEqual(openText(`https://clinic.example/en/my/#${code}`, BOOK), { kind: "opened", bundle: TWO.bundle, former: [], visit: null });
  assert.deepEqual(openText("nonsense", BOOK), { kind: "refused", refusal: { kind: "damaged" } });
});

test("an address asks to add, to start or to open", () => {
  assert.equal(readWish("", BOOK), null);
  assert.equal(readWish("#", BOOK), null);
  assert.deepEqual(readWish("#add=WALK", BOOK), { add: "WALK" });
  assert.deepEqual(readWish("#add=NONE", BOOK), { open: "add=NONE" });
  assert.equal(readWish("#start=STND,RASE", BOOK).start, BOOK.starts[2]);
  assert.deepEqual(readWish("#start=RASE,NONE", BOOK).start, { title: "", group: "tier", weeks: 0, picks: [{ code: "RASE", change: {} }] });
  for (const open of ["start", "add", "23456"]) assert.deepEqual(readWish(`#${open}`, BOOK), { open });
});

test("what a language lacks is named, and what is to be looked at", () => {
  const draft = addPick(TWO, "WALK", BOOK);
  const here = factsOf(draft, BOOK, VOICE);
  assert.deepEqual([here.lacks, here.lost, here.unreviewed], ["", "", false]);
  assert.deepEqual([here.order, here.size, here.toCheck, here.chart], ["clinician.check_order 1 Raise", ["clinician.check_many 3 2"], 2, []]);
  assert.deepEqual(here.sums, ["clinician.exercises 3", "clinician.session_more dose.about_minutes 22 Raise and Stand"]);
  const alone = addPick(EMPTY, "WALK", BOOK);
  assert.deepEqual(factsOf(alone, BOOK, VOICE).sums, ["clinician.exercises 1", "clinician.short_session 20"]);
  const there = factsOf({ ...draft, bundle: { ...draft.bundle, language: "es" } }, BOOK, VOICE);
  assert.deepEqual([there.lacks, there.unreviewed], ["clinician.language_lacks Spanish Walk", true]);
  assert.deepEqual(factsOf(EMPTY, BOOK, VOICE).sums, []);
});

test("a bundle begun from what is not there any more says so, but not where nothing is picked", () => {
  const origin = { kind: "programme", slug: "", step: 0, mark: "2222" };
  const lost = factsOf({ ...TWO, bundle: { ...TWO.bundle, origin } }, BOOK, VOICE).lost;
  assert.equal(lost, "clinician.lost_origin");
  assert.equal(factsOf({ ...EMPTY, bundle: { ...EMPTY.bundle, origin } }, BOOK, VOICE).lost, "");
});
