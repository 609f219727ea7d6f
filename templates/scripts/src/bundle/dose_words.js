/**
 * A dose in words: the twin of handouts/dose/phrase.py.  A part that a dose does not have is empty.
 */

import { roundEven } from "./round.js";
import { shownSpan, shownWeight } from "./weight.js";

/** @typedef {import("./code.js").Dose} Dose */
/** @typedef {import("./speech.js").Speech} Speech */
/** @typedef {{numeral: string, word: string, kind: string}} Fact */

const MINUTE = 60;
const LONG_SECONDS = 120;
const DAYS_OF_WEEK = 7;

/**
 * Whether the library has no dose: the clinician sets one for each patient.
 * @param {Dose} dose
 * @returns {boolean}
 */
export function isOpen(dose) {
  return dose.sets === 0;
}

/**
 * What is counted in one set.
 * @param {Dose} dose
 * @returns {"reps" | "time" | "distance" | "hold"}
 */
export function doseKind(dose) {
  if (dose.reps !== undefined) return "reps";
  if (dose.time !== undefined) return "time";
  return dose.distance !== undefined ? "distance" : "hold";
}

/**
 * Whether each side does every set.
 * @param {Dose} dose
 * @returns {boolean}
 */
export function hasTwoSides(dose) {
  return dose.side === "both" || dose.side === "one-side-first";
}

/**
 * "3 sets of 10, each side"
 * @param {Dose} dose
 * @param {Speech} speech
 * @param {string} band  name of the band where the dose has one
 * @returns {string}
 */
export function doseLine(dose, speech, band) {
  if (isOpen(dose)) return speech.say("dose.open");
  return joinDoseParts([countedLine(dose, speech), sidePhrase(dose, speech), holdPhrase(dose, speech), loadPhrase(dose, speech, band)], speech);
}

/**
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {string}
 */
function countedLine(dose, speech) {
  if (doseKind(dose) === "hold") {
    const amount = speech.count("dose.seconds_each", dose.hold ?? 0);
    return speech.say("dose.holds_of", { holds: speech.count("dose.holds", dose.sets), amount });
  }
  if (dose.sets !== 1) {
    return speech.say("dose.sets_of", { sets: speech.count("dose.sets", dose.sets), amount: amountInSet(dose, speech) });
  }
  if (dose.reps !== undefined) return speech.count("dose.reps", dose.reps);
  if (dose.time !== undefined) return timePhrase(dose.time, speech, "");
  return speech.count("dose.meters", dose.distance ?? 0);
}

/**
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {string}
 */
function amountInSet(dose, speech) {
  if (dose.reps !== undefined) return speech.count("dose.reps_each", dose.reps);
  if (dose.time !== undefined) return timePhrase(dose.time, speech, "_each");
  return speech.count("dose.meters_each", dose.distance ?? 0);
}

/**
 * @param {string[]} parts
 * @param {Speech} speech
 * @returns {string}
 */
export function joinDoseParts(parts, speech) {
  return parts.reduce((line, part) => (line && part ? speech.say("dose.comma", { first: line, second: part }) : line || part), "");
}

/**
 * @param {number} seconds
 * @param {Speech} speech
 * @param {"" | "_each"} use
 * @returns {string}
 */
export function timePhrase(seconds, speech, use) {
  const minutes = Math.floor(seconds / MINUTE);
  const rest = seconds % MINUTE;
  if (minutes && !rest) return speech.count(`dose.minutes${use}`, minutes);
  if (seconds < LONG_SECONDS) return speech.count(`dose.seconds${use}`, seconds);
  return speech.say("dose.minutes_seconds", { minutes: speech.count(`dose.minutes${use}`, minutes), seconds: speech.count(`dose.seconds${use}`, rest) });
}

/**
 * @param {number} seconds
 * @param {Speech} speech
 * @returns {string}
 */
export function aboutMinutes(seconds, speech) {
  return speech.count("dose.about_minutes", Math.max(1, roundEven(seconds / MINUTE)));
}

/**
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {string}
 */
export function sidePhrase(dose, speech) {
  if (!dose.side || dose.side === "together") return "";
  if (dose.side === "alternating" && dose.reps !== undefined && dose.reps % 2 === 0) return speech.count("dose.side_alternating_each", dose.reps / 2);
  return speech.say(`dose.side_${dose.side.replaceAll("-", "_")}`);
}

/**
 * When to change sides, as sentences of their own; empty where each side does not do every set.
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {string}
 */
export function turnLine(dose, speech) {
  if (!hasTwoSides(dose)) return "";
  const limb = dose.limb ?? "side";
  if (dose.sets === 1) return speech.say(`dose.once_${limb}`);
  const counted = doseKind(dose) === "hold" ? "holds" : "sets";
  return speech.say(dose.side === "both" ? `dose.turn_${counted}_${limb}` : `dose.first_${counted}_${limb}`);
}

/**
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {string}
 */
export function holdPhrase(dose, speech) {
  return dose.reps === undefined || dose.hold === undefined ? "" : speech.count("dose.hold", dose.hold);
}

/**
 * @param {Dose} dose
 * @param {Speech} speech
 * @param {string} band
 * @returns {string}
 */
export function loadPhrase(dose, speech, band) {
  if (dose.weight !== undefined) return speech.say("dose.weight", { weight: weightPhrase(dose.weight, speech) });
  return band ? speech.say("dose.band", { band }) : "";
}

/**
 * @param {number} kilograms
 * @param {Speech} speech
 * @returns {string}
 */
export function weightPhrase(kilograms, speech) {
  return weightOfNumber(shownWeight(kilograms, speech.inPounds), speech);
}

/**
 * @param {number} number in the clinic's unit
 * @param {Speech} speech
 * @returns {string}
 */
function weightOfNumber(number, speech) {
  return speech.inPounds ? speech.count("dose.lb", number) : speech.say("dose.kg", { n: speech.number(number) });
}

/**
 * @param {number} days
 * @param {Speech} speech
 * @returns {string}
 */
export function daysPhrase(days, speech) {
  return days === DAYS_OF_WEEK ? speech.say("dose.every_day") : speech.count("dose.days", days);
}

/**
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {string}
 */
export function frequencyLine(dose, speech) {
  const days = dose.days === undefined ? "" : daysPhrase(dose.days, speech);
  return joinDoseParts([days, dose.times > 1 ? speech.count("dose.times", dose.times) : ""], speech);
}

/**
 * Whether there is anything to rest between.
 * @param {Dose} dose
 * @returns {boolean}
 */
export function hasRest(dose) {
  return dose.rest !== 0 && (dose.sets !== 1 || hasTwoSides(dose));
}

/**
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {string}
 */
export function restLine(dose, speech) {
  if (!hasRest(dose)) return "";
  const unit = dose.rest % MINUTE === 0 ? "minutes" : "seconds";
  return speech.count(`dose.rest_${unit}`, unit === "minutes" ? dose.rest / MINUTE : dose.rest);
}

/**
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {string}
 */
export function effortLine(dose, speech) {
  if (!dose.effort) return "";
  const [low, high] = dose.effort.map((value) => speech.number(value));
  return low === high ? speech.say("dose.effort", { n: low }) : speech.say("dose.effort_span", { low, high });
}

/**
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {string}
 */
export function tempoLine(dose, speech) {
  const parts = ["go", "hold", "back", "pause"].map((name, at) => ({ name, seconds: dose.tempo?.[at] ?? 0 }));
  return joinDoseParts(parts.map(({ name, seconds }) => (seconds ? speech.count(`dose.tempo_${name}`, seconds) : "")), speech);
}

/**
 * How hard it should feel, with the ends of the scale in words; for patients.
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {string}
 */
export function effortScaleLine(dose, speech) {
  const effort = effortLine(dose, speech);
  return effort && speech.say("dose.effort_scale", { effort });
}

/**
 * A dose in parts: the line, how often, rest, effort, tempo.
 * @param {Dose} dose
 * @param {Speech} speech
 * @param {string} band
 * @returns {string[]}
 */
export function doseParts(dose, speech, band) {
  return [doseLine(dose, speech, band), frequencyLine(dose, speech), restLine(dose, speech), effortLine(dose, speech), tempoLine(dose, speech)];
}

/** Which unit each field's range is said in. */
const SPAN_UNITS = { sets: "sets", reps: "reps", hold: "seconds", time: "seconds", distance: "meters", days: "days", times: "times", rest: "seconds" };

/**
 * How far one field may be moved: "5 to 15 times".
 * @param {string} name
 * @param {number[]} span
 * @param {Speech} speech
 * @returns {string}
 */
export function spanLine(name, span, speech) {
  let [low, high] = span;
  if (name === "weight") {
    [low, high] = shownSpan(low, high, speech.inPounds);
    if (low === high) return weightOfNumber(low, speech);
    if (speech.inPounds) return speech.count("dose.span_lb", high, { low: speech.number(low) });
    return speech.say("dose.span_kg", { low: speech.number(low), high: speech.number(high) });
  }
  let unit = /** @type {Record<string, string>} */ (SPAN_UNITS)[name];
  if (unit === "seconds" && low % MINUTE === 0 && high % MINUTE === 0) {
    unit = "minutes";
    low /= MINUTE;
    high /= MINUTE;
  }
  if (low === high) return unit === "days" ? daysPhrase(low, speech) : speech.count(`dose.${unit}`, high);
  return speech.count(`dose.span_${unit}`, high, { low: speech.number(low) });
}

/**
 * The numbers of a dose in the order in which they are read, each with the word under it.
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {Fact[]}
 */
export function doseFacts(dose, speech) {
  /** @type {(word: string, amount: number, kind: string) => Fact} */
  const fact = (word, amount, kind) => ({ numeral: speech.number(amount), word: speech.count(`dose.word_${word}`, amount), kind });
  /** @type {(seconds: number, use: string) => Fact} */
  const timeFact = (seconds, use) => {
    const unit = seconds % MINUTE === 0 ? "minutes" : "seconds";
    return fact(use ? `${use}_${unit}` : unit, unit === "minutes" ? seconds / MINUTE : seconds, use || unit);
  };
  if (isOpen(dose)) return [];
  const kind = doseKind(dose);
  const facts = [kind === "hold" ? fact("holds", dose.sets, "holds") : fact("sets", dose.sets, "sets")];
  const counted =
    kind === "hold" ? fact("seconds", dose.hold ?? 0, "hold")
      : kind === "reps" ? fact("reps", dose.reps ?? 0, "reps")
        : kind === "time" ? timeFact(dose.time ?? 0, "")
          : fact("meters", dose.distance ?? 0, "meters");
  // The order of the sides is said by `turnLine` beside the numbers.
  const side = hasTwoSides(dose) ? speech.say("dose.side_both") : sidePhrase(dose, speech);
  facts.push({ ...counted, word: joinDoseParts([counted.word, side], speech) });
  if (kind === "reps" && dose.hold !== undefined) facts.push(fact("hold_seconds", dose.hold, "hold"));
  if (dose.weight !== undefined) {
    const number = shownWeight(dose.weight, speech.inPounds);
    facts.push({ numeral: speech.number(number), word: speech.inPounds ? speech.count("dose.word_lb", number) : speech.say("dose.word_kg"), kind: "weight" });
  }
  if (hasRest(dose)) facts.push(timeFact(dose.rest, "rest"));
  if (dose.times > 1) facts.push(fact("times", dose.times, "times"));
  if (dose.days !== undefined) facts.push(fact("days", dose.days, "days"));
  if (dose.effort) facts.push({ numeral: effortNumeral(dose.effort, speech), word: speech.say("dose.word_effort"), kind: "effort" });
  return facts;
}

/**
 * @param {number[]} effort
 * @param {Speech} speech
 * @returns {string}
 */
function effortNumeral(effort, speech) {
  const [low, high] = effort.map((value) => speech.number(value));
  return low === high ? low : speech.say("dose.range", { low, high });
}
