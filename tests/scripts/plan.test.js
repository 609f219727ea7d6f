/** The plan of a session: its order and lengths are those of the prescription; a run never loses time and never leaps. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { momentOf, planSession } from "../../templates/scripts/src/phone/plan.js";
import { finishStep, goBack, isOver, leaveExercise, passTime, readRun, setRunning, skipExercise, startRun, writeRun } from "../../templates/scripts/src/phone/run.js";

const POLICY = { change: 30, between: 20 };
const shape = (steps) => steps.map(({ kind, set, side, seconds }) => [kind, set, side, seconds]);
const planOf = (dose, ...positions) => planSession((positions.length ? positions : ["sitting"]).map((position) => ({ dose, position })), POLICY);

test("2 sets of 10 each side at 2-1-3 with 60 s of rest: set 1 first side, rest, change sides, other side, rest, change, set 2", () => {
  const dose = { sets: 2, reps: 10, side: "both", tempo: [2, 1, 3, 0], rest: 60, times: 1 };
  assert.deepEqual(shape(planOf(dose)), [
    ["begin", 1, "", 0],
    ["lead", 1, "first", 5], ["work", 1, "first", 60],
    ["rest", 1, "other", 60], ["turn", 1, "other", 5], ["work", 1, "other", 60],
    ["rest", 2, "first", 60], ["turn", 2, "first", 5], ["work", 2, "first", 60],
    ["rest", 2, "other", 60], ["turn", 2, "other", 5], ["work", 2, "other", 60],
  ]);
});

test("one side first: all sets on one side, then all on the other; the same sums as in turn", () => {
  const dose = { sets: 2, reps: 10, side: "one-side-first", tempo: [2, 1, 3, 0], rest: 60, times: 1 };
  assert.deepEqual(shape(planOf(dose)), [
    ["begin", 1, "", 0],
    ["lead", 1, "first", 5], ["work", 1, "first", 60],
    ["rest", 2, "first", 60], ["work", 2, "first", 60],
    ["rest", 1, "other", 60], ["turn", 1, "other", 5], ["work", 1, "other", 60],
    ["rest", 2, "other", 60], ["work", 2, "other", 60],
  ]);
});

test("without rest there are 5 s to change sides, and 5 s to get ready between sets of one side", () => {
  const kinds = planOf({ sets: 1, hold: 30, side: "both", rest: 0, times: 1 }).map(({ kind }) => kind);
  assert.deepEqual(kinds, ["begin", "lead", "work", "turn", "work"]);
  const one = planOf({ sets: 2, hold: 30, side: "one", rest: 0, times: 1 }).map(({ kind }) => kind);
  assert.deepEqual(one, ["begin", "lead", "work", "lead", "work"]);
});

test("between exercises: the clinic's seconds, and those for a change of position only where it changes; each begin waits", () => {
  const steps = planOf({ sets: 1, reps: 5, side: "together", rest: 0, times: 1 }, "sitting", "sitting", "standing");
  const begins = steps.filter(({ kind }) => kind === "begin").map(({ seconds, waits }) => [seconds, waits]);
  assert.deepEqual(begins, [[0, true], [20, true], [50, true]]);
  assert.deepEqual(steps.filter(({ kind }) => kind === "work").map(({ seconds }) => seconds), [null, null, null]);
});

test("2-1-3 with a pause of 1 s: at each tenth of a second the repetition, the phase and the seconds left are right", () => {
  const work = planOf({ sets: 1, reps: 3, side: "together", tempo: [2, 1, 3, 1], rest: 0, times: 1 })[2];
  const phases = [[0, 20], [20, 30], [30, 60], [60, 70]];
  for (let at = 0; at < 210; at += 1) {
    const inside = at % 70;
    const phase = phases.findIndex(([begin, end]) => begin <= inside && inside < end);
    const [begin, end] = phases[phase];
    const part = (inside - begin) / (end - begin);
    const moment = momentOf(work, at / 10);
    assert.deepEqual([moment.rep, moment.phase, moment.left], [Math.floor(at / 70) + 1, phase, Math.ceil((end - inside) / 10)], `at ${at}`);
    assert.ok(Math.abs(moment.share - [part, 1, 1 - part, 0][phase]) < 1e-6, `at ${at}`);
  }
});

const DOSE = { sets: 2, reps: 10, side: "both", tempo: [2, 1, 3, 0], rest: 60, times: 1 };
const PLAN = planSession([{ dose: DOSE, position: "a" }, { dose: DOSE, position: "b" }], { change: 0, between: 10 });

test("in ticks of 130 ms each step takes its seconds to within a tick, and so does the whole", () => {
  let run = finishStep(startRun(PLAN), PLAN);
  let clock = 0;
  const ends = [[], []];
  while (!isOver(run, PLAN)) {
    const before = run.at;
    clock += 130;
    run = passTime(run, PLAN, 130);
    if (run.at !== before) ends[PLAN[before].exercise].push(clock);
    if (PLAN[run.at]?.kind === "begin" && run.elapsed >= 10_000) {
      clock = 0;
      run = finishStep(run, PLAN);
    }
  }
  const wanted = [5, 60, 60, 5, 60, 60, 5, 60, 60, 5, 60].map((_, at, all) => all.slice(0, at + 1).reduce((sum, one) => sum + one, 0));
  for (const some of ends) {
    assert.equal(some.length, wanted.length);
    some.forEach((end, at) => assert.ok(end / 1000 - wanted[at] >= 0 && end / 1000 - wanted[at] < 0.131, `${end}`));
  }
  assert.deepEqual(run.bouts, [4, 4]);
});

test("after a gap one step ends; what is paused stays; a set gone back to is undone", () => {
  const gap = passTime(finishStep(startRun(PLAN), PLAN), PLAN, 999_999);
  assert.deepEqual([gap.at, gap.elapsed], [2, 0]);
  assert.equal(passTime(setRunning(gap, false), PLAN, 5000).elapsed, 0);
  const back = goBack({ ...gap, at: gap.at + 1, bouts: [1, 0] }, PLAN);
  assert.deepEqual([back.at, back.bouts], [2, [0, 0]]);
  const next = skipExercise(gap, PLAN);
  assert.equal(PLAN[next.at].exercise, 1);
  assert.ok(isOver(skipExercise(next, PLAN), PLAN));
});

test("a run is kept and read again, paused; what does not fit the plan is not read", () => {
  const text = writeRun({ ...startRun(PLAN), at: 3, bouts: [1, 0] });
  assert.deepEqual(readRun(text, PLAN), { at: 3, elapsed: 0, running: false, bouts: [1, 0] });
  for (const odd of ["", "x", "3:1", "0:1,0", "9999:1,0", "3:1,0,0"]) assert.equal(readRun(odd, PLAN), null, odd);
});

test("rounds: warm-up, run, walk after each run, the last one too, cool-down; what is done by occasion is in no session", () => {
  const rounds = { sets: 2, time: 60, rest: 120, work: "run-walk", warmUp: 300, coolDown: 240, side: "together", times: 1 };
  const often = { sets: 1, reps: 10, side: "together", rest: 0, times: 1, every: 30 };
  const plan = planSession([{ dose: often, position: "sitting" }, { dose: rounds, position: "standing" }], POLICY);
  assert.deepEqual(shape(plan), [
    ["begin", 1, "", 0], ["warm", 1, "", 300], ["lead", 1, "", 5], ["work", 1, "", 60], ["rest", 1, "", 120], ["work", 2, "", 60], ["rest", 2, "", 120], ["cool", 2, "", 240],
  ]);
  assert.deepEqual(new Set(plan.map(({ exercise }) => exercise)), new Set([1]));
});

const ROUNDS = { sets: 2, hold: 10, side: "together", rest: 15, times: 1 };
const inRounds = () => planSession([{ dose: { ...ROUNDS, sets: 1 }, position: "sitting", part: "warm-up" }, { dose: ROUNDS, position: "sitting", part: "rounds" }, { dose: ROUNDS, position: "standing", part: "rounds" }], POLICY, 40);

test("rounds: one set of each in turn, the rest of the round before the way to the first exercise, no rest between sets", () => {
  const begins = inRounds().filter(({ kind }) => kind === "begin").map(({ exercise, set, sets, seconds, inRounds: round }) => [exercise, set, sets, seconds, round ?? false]);
  assert.deepEqual(begins, [[0, 1, 1, 0, false], [1, 1, 2, 20, true], [2, 1, 2, 50, true], [1, 2, 2, 90, true], [2, 2, 2, 50, true]]);
  assert.ok(inRounds().every(({ kind }) => kind !== "rest"));
  assert.deepEqual(inRounds().filter(({ kind }) => kind === "work").map(({ exercise, set }) => [exercise, set]), [[0, 1], [1, 1], [2, 1], [1, 2], [2, 2]]);
});

test("what is left out is left out of later rounds too, forwards, backwards and after a pause", () => {
  const plan = inRounds();
  const at = plan.findIndex(({ kind, exercise }) => kind === "begin" && exercise === 1);
  const left = leaveExercise({ ...startRun(plan), at, bouts: [1, 0, 0] }, plan);
  let run = left;
  const seen = [];
  while (!isOver(run, plan)) {
    seen.push(plan[run.at].exercise);
    run = finishStep(run, plan);
  }
  assert.deepEqual(seen, [2, 2, 2, 2, 2, 2]);
  assert.deepEqual(run.bouts, [1, 0, 2]);
  assert.equal(plan[goBack(left, plan).at].exercise, 0);
  const kept = readRun(writeRun(left), plan);
  assert.deepEqual(kept, { ...left, running: false });
  assert.ok(isOver(leaveExercise(left, plan), plan));
  assert.equal(writeRun(startRun(plan)), "0:0,0,0");
});

test("skipping one round of an exercise leaves its next round", () => {
  const plan = inRounds();
  let run = skipExercise({ ...startRun(plan), at: plan.findIndex(({ kind, exercise }) => kind === "begin" && exercise === 1) }, plan);
  run = skipExercise(run, plan);
  assert.deepEqual([plan[run.at].exercise, plan[run.at].set], [1, 2]);
});
