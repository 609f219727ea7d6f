/** Drafts of a bundle: each change gives a new draft, and what does not fit is refused. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { addPick, emptyDraft, orderPicks, placePick, replacePick, setField, shiftPick, startFrom, takeOut, tickedFindings, withPicks } from "../../templates/scripts/src/bundle/draft.js";
import { BOOK } from "./book.js";

const codesOf = (draft) => draft.bundle.picks.map(({ code }) => code);
const picksOf = (...codes) => codes.map((code) => ({ code, change: {} }));
const EMPTY = emptyDraft(BOOK, "nowhere");
const TWO = addPick(addPick(EMPTY, "RASE", BOOK), "STND", BOOK);

test("an empty draft has the first location, paper and size of the book, and four weeks", () => {
  assert.deepEqual(EMPTY.bundle, { language: "en", location: "hill", weeks: 4, picks: [] });
  assert.equal(emptyDraft(BOOK, "mill").bundle.location, "mill");
  assert.deepEqual([EMPTY.sheet.paper, EMPTY.sheet.size], ["letter", "standard"]);
});

test("an exercise is added once, if the book has it, and no more than twelve", () => {
  assert.equal(addPick(TWO, "RASE", BOOK), TWO);
  assert.equal(addPick(TWO, "constructor", BOOK), TWO);
  const full = withPicks(TWO, Array.from({ length: 12 }, (_, at) => ({ code: String(at), change: {} })));
  assert.equal(addPick(full, "RASE", BOOK), full);
});

test("a field is set within its range, and a change back to the library's dose is none", () => {
  const set = setField(TWO, "RASE", "sets", 2, BOOK);
  assert.deepEqual(set.bundle.picks[0], { code: "RASE", change: { sets: 2 } });
  assert.deepEqual(setField(set, "RASE", "sets", 3, BOOK).bundle.picks[0], { code: "RASE", change: {} });
  assert.deepEqual(TWO.bundle.picks[0], { code: "RASE", change: {} });
});

test("what is outside its range, no whole number, no number or fixed is refused with the range", () => {
  const refusal = { kind: "out-of-bounds", exercise: "RASE", field: "sets", low: 1, high: 4 };
  for (const value of [9, 2.5, "2"]) assert.deepEqual(setField(TWO, "RASE", "sets", value, BOOK), { ...refusal, value });
  assert.deepEqual(setField(TWO, "RASE", "weight", 2, BOOK), { kind: "out-of-bounds", exercise: "RASE", field: "weight", value: 2 });
});

test("exercises are shifted, taken out and replaced by one with the library's dose", () => {
  assert.deepEqual(codesOf(shiftPick(TWO, "STND", -1)), ["STND", "RASE"]);
  assert.equal(shiftPick(TWO, "RASE", -1), TWO);
  assert.deepEqual(codesOf(takeOut(TWO, "RASE")), ["STND"]);
  const set = setField(TWO, "RASE", "sets", 2, BOOK);
  assert.deepEqual(replacePick(set, "RASE", "WALK").bundle.picks, picksOf("WALK", "STND"));
});

test("the order has what is built on first, and few changes of position", () => {
  const ordered = codesOf(orderPicks(withPicks(TWO, picksOf("RASE", "WALK", "STND")), BOOK));
  assert.deepEqual([...ordered].sort(), ["RASE", "STND", "WALK"]);
  assert.ok(ordered.indexOf("STND") < ordered.indexOf("RASE"));
});

test("a start gives its picks and weeks; weeks that no code holds leave those of the draft", () => {
  const weeks = [0, 3, 13].map((count) => startFrom(TWO, { title: "", group: "tier", weeks: count, picks: [] }).bundle.weeks);
  assert.deepEqual(weeks, [4, 3, 4]);
  const origin = { kind: "bundle", slug: "first-days", step: 0 };
  const begun = startFrom(TWO, { title: "", group: "bundle", weeks: 2, picks: picksOf("WALK"), origin });
  assert.deepEqual([codesOf(begun), begun.bundle.origin], [["WALK"], origin]);
  assert.equal(startFrom(begun, { title: "", group: "tier", weeks: 0, picks: [] }).bundle.origin, undefined);
});

test("a ticked limit tells why exercises reach past it, in the phase that is ticked", () => {
  assert.deepEqual([...tickedFindings({ ...TWO, limits: { hip: 1 } }, BOOK)], [["STND", [{ limit: "New hip", text: "bends too far" }]]]);
  assert.deepEqual([...tickedFindings({ ...TWO, limits: { hip: 0 } }, BOOK)], []);
  assert.deepEqual([...tickedFindings({ ...TWO, limits: { other: 0 } }, BOOK)], []);
});

test("an exercise is put in a place; where it stands there already nothing changes", () => {
  const codesOf = (draft) => draft.bundle.picks.map(({ code }) => code);
  const three = ["RASE", "STND", "WALK"].reduce((draft, code) => addPick(draft, code, BOOK), emptyDraft(BOOK, "mill"));
  assert.deepEqual(codesOf(placePick(three, "WALK", 0)), ["WALK", "RASE", "STND"]);
  assert.deepEqual(codesOf(placePick(three, "RASE", 2)), ["STND", "WALK", "RASE"]);
  assert.equal(placePick(three, "STND", 1), three);
  assert.equal(placePick(three, "NONE", 1), three);
});
