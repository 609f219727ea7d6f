/** What the log says of days, in words. */

import { distancePhrase, doseKind, timePhrase } from "../bundle/dose_words.js";
import { sayDay } from "../day.js";
import { lastTimes } from "./log.js";

/** @typedef {import("../bundle/speech.js").Speech} Speech */
/** @typedef {import("./log.js").Done} Done */

/** Weekday, day and month. @type {Intl.DateTimeFormatOptions} */
export const SHORT_DAY = { weekday: "short", day: "numeric", month: "short" };

/**
 * "3 × 15": sets that were done times what one set holds.
 * @param {Done} done
 * @param {Speech} speech
 * @returns {string}
 */
export function sayAmount(done, speech) {
  const dose = { sets: done.of, side: "", rest: 0, times: 1, reps: done.reps, hold: done.hold, time: done.time, distance: done.distance };
  const kind = doseKind(dose);
  const amount =
    kind === "reps" ? speech.number(done.reps ?? 0)
      : kind === "distance" ? distancePhrase(done.distance ?? 0, speech, "")
        : timePhrase((kind === "time" ? done.time : done.hold) ?? 0, speech, "");
  return speech.say("phone.amount", { sets: speech.number(done.sets), amount });
}

/**
 * The last times that an exercise was done: "Tue 14 Sep: 3 × 15, pain 1".
 * @param {import("./log.js").Log} log
 * @param {string} code
 * @param {Speech} speech
 * @returns {string[]}
 */
export function sayLastTimes(log, code, speech) {
  return lastTimes(log, code, 3).map(({ date, done, pain }) => {
    const values = { day: sayDay(date, speech.language, SHORT_DAY), amount: sayAmount(done, speech) };
    return pain === null ? speech.say("phone.did_no_pain", values) : speech.say("phone.did", { ...values, pain: speech.number(pain) });
  });
}
