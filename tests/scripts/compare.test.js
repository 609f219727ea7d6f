/** Two visits of a test of function: change, the test's own error, share of the other side. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { compareVisits, shareOf } from "../../templates/scripts/src/compare.js";

const WORDS = Object.fromEntries(
  ["better", "worse", "same", "beyond_error", "within_error", "ratio", "ratio_reached", "ratio_missed", "beyond_end"].map((name) => [name, `${name} {side}{change}{percent}{value}`]),
);
const ONE = { sides: { result: "R:" }, better: "more", most: null, mostShown: "", error: null, errorShown: "", aim: null, value: { one: "{n} time", other: "{n} times" }, words: WORDS };
const BOTH = { ...ONE, sides: { left: "L:", right: "R:" } };
const said = (what, before, now, problem = "") =>
  compareVisits(what, before, now, problem, String, (value) => (value === 1 ? "one" : "other")).map((line) => line.replace(/\{[a-z]+\}/g, ""));

test("a change within the error of 2.5 stands, one beyond it is said (Thirty second chair stand test, knee osteoarthritis, 2022: about 2.5 stands)", () => {
  const chair = { ...ONE, error: 2.5, errorShown: "2.5 times" };
  assert.deepEqual(said(chair, { result: 9 }, { result: 11 }), ["better R:2 times within_error 2.5 times"]);
  assert.deepEqual(said(chair, { result: 9 }, { result: 12 }), ["better R:3 times beyond_error 2.5 times"]);
  assert.deepEqual(said(chair, { result: 12 }, { result: 9 }), ["worse R:3 times beyond_error 2.5 times"]);
});

test("a change of exactly the error is not more than it, also where decimals would not sum up", () => {
  const wall = { ...ONE, error: 1.9, errorShown: "1.9" };
  assert.deepEqual(said(wall, { result: 5.3 }, { result: 7.2 }), ["better R:1.9 times within_error 1.9"]);
  assert.deepEqual(said(wall, { result: 5.3 }, { result: 7.3 }), ["better R:2 times beyond_error 1.9"]);
});

test("without a source for the error nothing is said of chance", () => {
  assert.deepEqual(said(ONE, { result: 3 }, { result: 4 }), ["better R:1 time "].map((line) => line.trim()));
  assert.deepEqual(said(ONE, { result: 4 }, { result: 4 }), ["same R:"]);
});

test("less is better where the test says so", () => {
  const timed = { ...ONE, better: "less" };
  assert.deepEqual(said(timed, { result: 9 }, { result: 7 }), ["better R:2 times"]);
  assert.deepEqual(said(timed, { result: 7 }, { result: 9 }), ["worse R:2 times"]);
});

test("each side by itself, and the side with the problem as a share of the other (limb symmetry index: injured by uninjured, times 100)", () => {
  const hop = { ...BOTH, aim: 90 };
  const [before, now] = [{ left: 80, right: 120 }, { left: 108, right: 120 }];
  assert.deepEqual(said(hop, before, now, "left"), ["better L:28 times", "same R:", "ratio 90 ratio_reached 90"]);
  assert.deepEqual(said(hop, before, { left: 107.9, right: 120 }, "left").at(-1), "ratio 89 ratio_missed 90");
  assert.equal(shareOf({ left: 150, right: 120 }, "right"), 80);
  assert.equal(shareOf({ left: 10, right: 0 }, "left"), null);
  assert.equal(shareOf({ left: 0, right: 10 }, "left"), 0);
  assert.equal(shareOf({ left: null, right: 10 }, "left"), null);
});

test("without a chosen side there is no share, and half a visit says nothing", () => {
  assert.deepEqual(said(BOTH, { left: 5, right: null }, { left: null, right: 7 }), []);
  assert.deepEqual(said(BOTH, { left: 5, right: null }, { left: 6, right: 7 }), ["better L:1 time"]);
});

test("a result beyond the end of the test is a mistake of typing", () => {
  const ended = { ...ONE, most: 45, mostShown: "45 seconds" };
  assert.deepEqual(said(ended, { result: 46 }, { result: 12 }), ["beyond_end 45 seconds"]);
  assert.deepEqual(said(ended, { result: 45 }, { result: 12 }), ["worse R:33 times"]);
});
