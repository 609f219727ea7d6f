/** The log: only dates, codes and numbers; anything else is damaged and set aside. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { addEntry, addOccasion, answerAfter, countDays, emptyLog, hurtLastTime, lastTimes, noteDone, occasionsOn, readLog, shiftDay, timesOf, unanswered } from "../../templates/scripts/src/phone/log.js";

const ENTRY = { date: "2026-11-24", done: [{ code: "H7K2", sets: 3, of: 3, reps: 15 }], effort: 5, pain: 1 };
const logOf = (entries) => ({ version: 1, entries });
const changed = (change) => logOf([{ ...ENTRY, ...change }]);

test("a wrong version, day, number or any field that a log has not, above all free text, is damaged", () => {
  const bad = [
    [], 5, { version: 0, entries: [] }, { version: 1 }, logOf([null]), logOf([[]]),
    changed({ date: "2026-02-30" }), changed({ date: "2026-1-1" }), changed({ date: 5 }),
    changed({ effort: 11 }), changed({ pain: -1 }), changed({ pain: 1.5 }), changed({ pain: "1" }), changed({ name: "Ann" }),
    changed({ done: [{ code: "H7K2", note: 1 }] }), changed({ done: [{ code: "h7k2", sets: 1 }] }), changed({ done: [{ code: "H7K2", sets: "3" }] }),
    changed({ done: [{ code: "H7K2", sets: -1 }] }), changed({ done: null }), changed({ done: ["H7K2"] }),
  ];
  for (const each of bad) assert.deepEqual(readLog(JSON.stringify(each)), { state: "damaged", log: emptyLog() }, JSON.stringify(each));
  assert.equal(readLog(JSON.stringify(changed({}))).state, "whole");
});

test("cut or foreign text is damaged; a higher version is newer; nothing at all is a new log", () => {
  const states = ["{", "x", '{"version":1,"entries":[', '{"version":3}', "", null].map((text) => readLog(text).state);
  assert.deepEqual(states, ["damaged", "damaged", "damaged", "newer", "whole", "whole"]);
});

test("entries come back in the order of their days", () => {
  const later = { ...ENTRY, date: "2026-11-25", effort: null };
  const earlier = { ...ENTRY, date: "2026-11-20", pain: null };
  const log = [later, earlier].reduce(addEntry, emptyLog());
  assert.deepEqual(readLog(JSON.stringify(log)), { state: "whole", log: logOf([earlier, later]) });
});

test("sets of each side count half; only amounts of the dose are noted", () => {
  const dose = { sets: 3, reps: 10, side: "both", tempo: [2, 1, 3, 0], rest: 60, times: 1, effort: [4, 6] };
  assert.deepEqual(noteDone("H7K2", dose, 5), { code: "H7K2", sets: 2.5, of: 3, reps: 10 });
});

test("an exercise that was skipped is no fact for the next step; the last ones come, the newest last", () => {
  const entries = [20, 21, 22, 23].map((day) => ({ ...ENTRY, date: `2026-11-${day}` }));
  entries.push({ ...ENTRY, date: "2026-11-24", done: [{ code: "H7K2", sets: 0, of: 3, reps: 15 }] });
  assert.deepEqual(lastTimes(logOf(entries), "H7K2", 3).map(({ date }) => date), ["2026-11-21", "2026-11-22", "2026-11-23"]);
});

test("two sessions on one day are one day; day 7 counts, day 8 before does not", () => {
  const dates = ["2026-11-18", "2026-11-19", "2026-11-25", "2026-11-25", "2026-11-26"];
  assert.equal(countDays(logOf(dates.map((date) => ({ ...ENTRY, date }))), "2026-11-25", 7), 2);
});

test("a day later is the next day, also where the clocks change", () => {
  const shifted = [["2026-03-28", 1], ["2026-03-29", 1], ["2026-10-25", 1], ["2026-01-01", -1]].map(([day, by]) => shiftDay(day, by));
  assert.deepEqual(shifted, ["2026-03-29", "2026-03-30", "2026-10-26", "2025-12-31"]);
});

test("pain above the bound holds until a later answer at or below it; no answer takes nothing back", () => {
  const cases = [
    [[], false], [[5], false], [[6], true], [[10], true], [[6, 5], false], [[6, 0], false], [[0, 6], true],
    [[6, null], true], [[null], false], [[6, 5, null], false], [[4, null, 8, null], true],
  ];
  const other = { ...ENTRY, date: "2026-11-24", pain: 0, done: [{ code: "H7K3", sets: 1, of: 1 }] };
  const undone = { ...ENTRY, date: "2026-11-25", pain: 0, done: [{ code: "H7K2", sets: 0, of: 1 }] };
  for (const [pains, hurts] of cases) {
    const entries = pains.map((pain, at) => ({ ...ENTRY, date: `2026-11-${at + 10}`, pain }));
    assert.equal(hurtLastTime(logOf([...entries, other, undone]), "H7K2", 5), hurts, String(pains));
  }
});

test("an exercise that is done through the day is counted: one entry a day, apart from sessions", () => {
  const done = { code: "MV55", sets: 1, of: 1, reps: 10 };
  const twice = addOccasion(addOccasion(logOf([ENTRY]), "2026-11-24", done), "2026-11-24", done);
  assert.equal(twice.entries.length, 2);
  assert.equal(occasionsOn(twice, "2026-11-24", "MV55"), 2);
  assert.equal(occasionsOn(twice, "2026-11-25", "MV55"), 0);
  assert.equal(occasionsOn(twice, "2026-11-24", "H7K2"), 0);
  assert.deepEqual(readLog(JSON.stringify(twice)), { state: "whole", log: twice });
  assert.equal(occasionsOn(addOccasion(twice, "2026-11-25", done), "2026-11-25", "MV55"), 1);
});

test("pain on the day after is asked once, of sessions with the exercises that wait for it; a log without an answer stays of version 1", () => {
  const log = logOf([ENTRY]);
  assert.equal(unanswered(log, "2026-11-24", ["H7K2"]).length, 1);
  assert.equal(unanswered(log, "2026-11-24", ["CV86"]).length, 0);
  assert.equal(unanswered(log, "2026-11-23", ["H7K2"]).length, 0);
  const answered = answerAfter(log, "2026-11-24", ["H7K2"], 4);
  assert.equal(answered.version, 2);
  assert.equal(unanswered(answered, "2026-11-24", ["H7K2"]).length, 0);
  assert.deepEqual(readLog(JSON.stringify(answered)), { state: "whole", log: answered });
  assert.equal(timesOf(answered, "H7K2")[0].after, 4);
  assert.equal(timesOf(answerAfter(answered, "2026-11-24", ["H7K2"], 2), "H7K2")[0].after, 2);
  for (const after of [11, -1, "4", null, 1.5]) assert.equal(readLog(JSON.stringify(changed({ after }))).state, "damaged", String(after));
});

test("pain on the day after counts as pain of that session", () => {
  const answered = answerAfter(logOf([ENTRY]), "2026-11-24", ["H7K2"], 6);
  assert.equal(hurtLastTime(logOf([ENTRY]), "H7K2", 5), false);
  assert.equal(hurtLastTime(answered, "H7K2", 5), true);
});
