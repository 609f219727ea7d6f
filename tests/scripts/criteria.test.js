/** What a log says of the condition for the next exercise: what it shows, what it does not, what it cannot know. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { sayCriteria, weigh } from "../../templates/scripts/src/bundle/criteria.js";

const AMOUNT = { kind: "amount", says: "3 sets of 12.", sets: 3, reps: 12, days: 2 };
const PAIN = { kind: "pain", says: "Pain.", most: 2 };
const time = (day, some = {}) => ({ day, sets: 3, amounts: { reps: 12 }, effort: 5, pain: 1, alone: false, ...some });
const amount = (...times) => weigh([AMOUNT], times)[0];
const pain = (...times) => weigh([AMOUNT, PAIN], times)[1];

test("the amount is met where each of the latest days has a session with all of it", () => {
  assert.equal(amount(time(1), time(3)), "met");
  assert.equal(amount(time(1, { amounts: { reps: 15 }, sets: 4 }), time(3)), "met");
  assert.equal(amount(time(1), time(3, { sets: 2.5 })), "not");
  assert.equal(amount(time(1), time(3, { amounts: { reps: 11 } })), "not");
  assert.equal(amount(time(1), time(3, { amounts: {} })), "not");
  assert.equal(amount(time(1, { sets: 1 }), time(3), time(4)), "met");
  assert.equal(amount(time(1), time(3), time(4, { sets: 1 })), "not");
});

test("two sessions of one day are one day", () => {
  assert.equal(amount(time(3), time(3)), "not");
  assert.equal(amount(time(1), time(3, { sets: 1 }), time(3)), "met");
});

test("nothing done is not in the log; one day alone is enough where no days are asked for", () => {
  assert.equal(amount(), "not");
  assert.equal(weigh([{ ...AMOUNT, days: undefined }], [time(3)])[0], "met");
});

test("pain of the latest days counts, the worst of them", () => {
  assert.equal(pain(time(1), time(3, { pain: 2 })), "met");
  assert.equal(pain(time(0, { pain: 9, alone: true }), time(1), time(3)), "met");
  assert.equal(pain(time(1, { pain: 3, alone: true }), time(3)), "not");
});

test("an answer that is lacking, or high after several exercises, cannot be known", () => {
  assert.equal(pain(time(1), time(3, { pain: null })), "unknown");
  assert.equal(pain(time(1), time(3, { pain: 3 })), "unknown");
  assert.equal(pain(), "unknown");
  assert.equal(pain(time(1, { pain: 3 }), time(3, { pain: 4, alone: true })), "not");
});

test("effort is asked for itself; a test is never in a log", () => {
  const effort = { kind: "effort", says: "Effort.", most: 4 };
  assert.deepEqual(weigh([AMOUNT, effort, { kind: "test", says: "Test." }], [time(1, { alone: true }), time(3, { alone: true })]), ["met", "not", "unknown"]);
});

test("it is said how many of how many, each with its state, and that a sentence of the author may hold more", () => {
  const speech = { number: String, say: (name, values = {}) => [name, ...Object.values(values)].join(" ") };
  const times = [time(1), time(3, { pain: null })];
  assert.deepEqual(sayCriteria({ criteria: [AMOUNT, PAIN], whole: true }, times, speech), ["steps.criteria 1 2", "steps.criterion_met 3 sets of 12.", "steps.criterion_unknown Pain."]);
  assert.equal(sayCriteria({ criteria: [AMOUNT, PAIN], whole: false }, times, speech).at(-1), "steps.criteria_rest");
  assert.deepEqual(sayCriteria({ criteria: [], whole: false }, times, speech), []);
});

test("pain on the day after: met where each of the latest days was answered low; else not, or unknown", () => {
  const NEXT = { kind: "pain_next_day", says: "Pain on the day after.", most: 2 };
  const next = (...times) => weigh([AMOUNT, NEXT], times)[1];
  assert.equal(next(time(1, { after: 2 }), time(3, { after: 0 })), "met");
  assert.equal(next(time(1, { after: 0 }), time(3, { after: null })), "unknown");
  assert.equal(next(time(1, { after: 0 }), time(3, { after: 4 })), "unknown");
  assert.equal(next(time(1, { after: 0 }), time(3, { after: 4, alone: true })), "not");
});
