/** A log that a patient shows: what of it belongs to the plan, what is said of it, and what the clinic's own rule proposes. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { doneOf, propose, sayVisit } from "../../templates/scripts/src/bundle/visit.js";
import { shownLog } from "../../templates/scripts/src/phone/shown_log.js";
import { BOOK } from "./book.js";

const NEXT = { after: 2, steps: { reps: 2, time: 60, sets: 1 } };
const CLINIC = { ...BOOK.clinic, bounds: [3, 5], next: NEXT };
const exercise = (code, some) => ({ ...BOOK.exercises[code], ...some });
const LIBRARY = {
  ...BOOK,
  clinic: CLINIC,
  exercises: {
    STND: exercise("STND", { dose: { sets: 3, reps: 10, side: "together", rest: 60, times: 1, days: 3, effort: [4, 6] }, range: { sets: [1, 4], reps: [5, 15] }, harder: [["RASE", "more"]] }),
    RASE: exercise("RASE", { easier: [["WALK", ""], ["STND", "less"]] }),
    WALK: BOOK.exercises.WALK,
  },
};
const session = (day, sets, effort = 5, pain = 1) => ({ day, effort, pain, sets });
const visitOf = (codes, sessions, some = {}) => ({ bundle: { language: "en", location: "mill", weeks: 4, picks: codes.map((code) => ({ code, change: {} })) }, doses: [], former: [], fromFirst: false, today: 13, all: sessions.length, sessions, ...some });
/** Phrases as their name and their values. */
const SPEECH = {
  inPounds: false,
  number: String,
  join: (parts) => parts.join(" & "),
  say: (name, values = {}) => (name === "dose.comma" ? `${values.first}; ${values.second}` : [name.split(".")[1], ...Object.values(values)].join(" ")),
  count: (name, n, values = {}) => [name.split(".")[1], n, ...Object.values(values)].join(" "),
};

const DOSE = { sets: 2, reps: 10, side: "both", rest: 60, times: 1 };
const PICKS = [{ code: "RASE", doses: [DOSE] }, { code: "WALK", doses: [{ sets: 1, time: 600, side: "together", rest: 0, times: 1 }] }];
const done = (code, sets, some = {}) => ({ code, sets, of: 2, reps: 10, ...some });
const entry = (date, ...parts) => ({ date, done: parts, effort: 4, pain: null });

test("days count from the day of the plan; what is no part of it is left out", () => {
  const log = { version: 1, entries: [
    entry("2026-03-01", done("RASE", 2)),
    entry("2026-03-27", done("RASE", 0.5)),
    entry("2026-03-28", done("RASE", 1.5), done("STND", 3, { of: 3 })),
    entry("2026-03-29", done("RASE", 2, { reps: 8 })),
    entry("2026-03-29", done("RASE", 2, { of: 3 })),
    entry("2026-03-30", done("RASE", 2), done("WALK", 1, { of: 1, reps: undefined, time: 600 })),
  ] };
  assert.deepEqual(shownLog(log, PICKS, "2026-03-27", "2026-04-02"), { fromFirst: false, today: 6, all: 3, sessions: [{ day: 0, effort: 4, pain: null, sets: [0.5, 0] }, { day: 1, effort: 4, pain: null, sets: [1.5, 0] }, { day: 3, effort: 4, pain: null, sets: [2, 1] }] });
});

test("a session belongs to the stage of its day, also where stages differ in their weight alone; else to one that fits", () => {
  const heavy = { ...DOSE, weight: 2 };
  const more = { ...DOSE, reps: 12 };
  const picks = [{ code: "RASE", doses: [DOSE, more, heavy], stageOn: (day) => (day < "2026-03-10" ? 0 : 2) }];
  const log = { version: 1, entries: [entry("2026-03-02", done("RASE", 2)), entry("2026-03-10", done("RASE", 2)), entry("2026-03-11", done("RASE", 2, { reps: 12 })), entry("2026-03-12", done("RASE", 2, { reps: 9 }))] };
  assert.deepEqual(shownLog(log, picks, "2026-03-01", "2026-03-12").sessions.map(({ day, sets, stages }) => [day, sets, stages]), [[1, [2], [0]], [9, [2], [2]], [10, [2], [1]]]);
});

test("without the day of the plan days count from the first session", () => {
  const log = { version: 1, entries: [entry("2026-02-27", done("RASE", 2)), entry("2026-03-02", done("RASE", 2))] };
  assert.deepEqual(shownLog(log, PICKS, "", "2026-03-01"), { fromFirst: true, today: 3, all: 2, sessions: [{ day: 0, effort: 4, pain: null, sets: [2, 0] }, { day: 3, effort: 4, pain: null, sets: [2, 0] }] });
  assert.deepEqual(shownLog({ version: 1, entries: [] }, PICKS, "", "2026-03-01"), { fromFirst: true, today: 0, all: 0, sessions: [] });
});

test("planned is what the days of the week come to until now, never past the plan's weeks", () => {
  const visit = visitOf(["STND", "WALK"], [session(0, [3, 1]), session(2, [2.5, 0]), session(4, [0, 1])]);
  assert.deepEqual([doneOf(visit, 0, LIBRARY).done, doneOf(visit, 0, LIBRARY).whole, doneOf(visit, 0, LIBRARY).planned], [2, 1, 6]);
  assert.equal(doneOf({ ...visit, today: 90 }, 0, LIBRARY).planned, 12);
  assert.equal(doneOf(visit, 1, LIBRARY).planned, null);
  const daily = { ...LIBRARY, exercises: { ...LIBRARY.exercises, STND: { ...LIBRARY.exercises.STND, dose: { ...LIBRARY.exercises.STND.dose, days: 7, times: 2 } } } };
  assert.equal(doneOf(visit, 0, daily).planned, 28);
});

test("the rule proposes more of what is counted, then a set, then a harder exercise; never past the range", () => {
  const whole = [session(0, [3]), session(2, [3]), session(4, [3])];
  const at = (change) => { const visit = visitOf(["STND"], whole); visit.bundle.picks[0].change = change; visit.sessions = whole.map((one) => ({ ...one, sets: [change.sets ?? 3] })); return propose(visit, 0, LIBRARY); };
  assert.deepEqual(at({}), { code: "STND", kind: "more", field: "reps", value: 12 });
  assert.deepEqual(at({ reps: 13 }), { code: "STND", kind: "more", field: "reps", value: 15 });
  assert.deepEqual(at({ reps: 14 }), { code: "STND", kind: "more", field: "sets", value: 4 });
  assert.deepEqual(at({ reps: 15, sets: 4 }), { code: "STND", kind: "on", target: "RASE" });
});

test("nothing is proposed where the rule is not met, or the clinic has none", () => {
  const of = (sessions, book = LIBRARY) => propose(visitOf(["STND"], sessions), 0, book);
  const met = [session(0, [3]), session(2, [3])];
  assert.equal(of(met)?.kind, "more");
  assert.equal(of([session(0, [3], 6, 3), session(2, [3], 6, 3)])?.kind, "more", "at the bounds");
  for (const [why, sessions] of Object.entries({
    none: [], few: [session(0, [3])], part: [session(0, [3]), session(2, [2.5])], pain: [session(0, [3], 5, 4), session(2, [3])], effort: [session(0, [3], 7), session(2, [3])],
    unanswered: [session(0, [3], null), session(2, [3])], painless: [session(0, [3], 5, null), session(2, [3])],
  })) assert.equal(of(sessions), null, why);
  assert.equal(of(met, { ...LIBRARY, clinic: { ...CLINIC, next: undefined } }), null);
  assert.equal(of(met, { ...LIBRARY, clinic: { ...CLINIC, bounds: [] } }), null);
  assert.equal(of(met, { ...LIBRARY, clinic: { ...CLINIC, next: { after: 2, steps: { hold: 5 } } } }), null);
});

test("pain above the clinic's bound in the last session leads back, whatever went before", () => {
  const visit = visitOf(["RASE"], [session(0, [3]), session(2, [3]), session(4, [1], 8, 6)]);
  assert.deepEqual(propose(visit, 0, LIBRARY), { code: "RASE", kind: "back", target: "WALK" });
  assert.deepEqual(propose(visitOf(["RASE"], [session(0, [3], 5, 6), session(2, [3], 5, 5)]), 0, LIBRARY), null);
});

test("the chart has the counts, each exercise, what is proposed, and what the log cannot tell", () => {
  const visit = visitOf(["STND", "WALK"], [session(0, [3, 1], 4, 0), session(2, [3, 0], 6, 2), session(4, [1, 0], null, null)], { fromFirst: true, all: 5 });
  assert.deepEqual(sayVisit(visit, LIBRARY, SPEECH), [
    "visit_title visit_sessions 5 visit_days 14",
    "visit_from_first",
    "visit_latest 3",
    "- visit_line Stand visit_of 3 6; visit_part 1; visit_effort_span 4 6 6; visit_asked effort_span 4 6; visit_pain_span 0 2 2",
    "- visit_line Walk visit_times 1; visit_effort 4; visit_pain 0",
    "visit_cannot",
  ]);
  const more = sayVisit(visitOf(["STND"], [session(0, [3]), session(2, [3])]), LIBRARY, SPEECH);
  assert.ok(more.includes("- visit_more Stand sets_of sets 3 reps_each 12"));
});

test("pain on the day after: told apart, and by the clinic's bounds it asks for no more, or for something easier", () => {
  const after = (value) => [session(2, [3]), { ...session(4, [3]), after: value }];
  assert.equal(propose(visitOf(["STND"], after(3)), 0, LIBRARY)?.kind, "more");
  assert.equal(propose(visitOf(["STND"], after(4)), 0, LIBRARY), null);
  assert.equal(propose(visitOf(["STND"], after(6)), 0, LIBRARY)?.kind, "back");
  assert.deepEqual(doneOf(visitOf(["STND"], after(4)), 0, LIBRARY).after, [4]);
  assert.match(sayVisit(visitOf(["STND"], after(4)), LIBRARY, SPEECH).join("\n"), /visit_pain 1; visit_after visit_pain 4/);
});
