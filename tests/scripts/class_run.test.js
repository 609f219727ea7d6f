/** The clock of a class: parts that pass, skipping, going back, what is heard. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { cueBetween, goBack, passTime, secondsLeft, skipPart } from "../../templates/scripts/src/class_run.js";

const part = (kind, seconds, turn = false) => ({ kind, seconds, says: "", round: "", shows: "", next: "", turn });
const PARTS = [part("change", 20), part("work", 40, true), part("change", 20), part("work", 40)];

test("time passes from part to part, as long as it is", () => {
  assert.deepEqual(passTime({ at: 0, elapsed: 0 }, PARTS, 19_999), { at: 0, elapsed: 19_999 });
  assert.deepEqual(passTime({ at: 0, elapsed: 19_000 }, PARTS, 1000), { at: 1, elapsed: 0 });
  assert.deepEqual(passTime({ at: 0, elapsed: 0 }, PARTS, 65_000), { at: 2, elapsed: 5000 });
  assert.deepEqual(passTime({ at: 3, elapsed: 0 }, PARTS, 400_000), { at: 4, elapsed: 0 });
  assert.deepEqual(passTime({ at: 1, elapsed: 500 }, PARTS, -5000), { at: 1, elapsed: 500 });
});

test("the last second stands until it is over", () => {
  assert.equal(secondsLeft({ at: 0, elapsed: 0 }, PARTS), 20);
  assert.equal(secondsLeft({ at: 0, elapsed: 19_200 }, PARTS), 1);
  assert.equal(secondsLeft({ at: 4, elapsed: 0 }, PARTS), 0);
});

test("skipping goes on, going back leads to the beginning or to the part before", () => {
  assert.deepEqual(skipPart({ at: 1, elapsed: 9000 }, PARTS), { at: 2, elapsed: 0 });
  assert.deepEqual(skipPart({ at: 4, elapsed: 0 }, PARTS), { at: 4, elapsed: 0 });
  assert.deepEqual(goBack({ at: 1, elapsed: 9000 }), { at: 1, elapsed: 0 });
  assert.deepEqual(goBack({ at: 1, elapsed: 2000 }), { at: 0, elapsed: 0 });
  assert.deepEqual(goBack({ at: 0, elapsed: 0 }), { at: 0, elapsed: 0 });
});

test("what is heard: work, change, half of a work with sides, the last three seconds, the end", () => {
  const from = (at, elapsed, passed) => cueBetween({ at, elapsed }, passTime({ at, elapsed }, PARTS, passed), PARTS);
  assert.equal(from(0, 19_900, 200), "go");
  assert.equal(from(1, 39_900, 200), "turn");
  assert.equal(from(1, 19_900, 200), "turn");
  assert.equal(from(3, 19_900, 200), null);
  assert.equal(from(0, 16_900, 200), "count");
  assert.equal(from(0, 15_900, 200), null);
  assert.equal(from(3, 39_900, 200), "end");
  assert.equal(cueBetween({ at: 4, elapsed: 0 }, { at: 4, elapsed: 0 }, PARTS), null);
});
