/**
 * A dose in words: the twin of handouts/dose/phrase.py.  A part that a dose does not have is empty.
 */

import { roundEven } from "./round.js";
import { shownSpan, shownWeight } from "./weight.js";

/** @typedef {import("./code.js").Dose} Dose */
/** @typedef {import("./speech.js").Speech} Speech */
/** @typedef {{numeral: string, word: string, kind: string}} Fact */
/** @typedef {{band: string, pace: string, occasion: string}} DoseNames  What a dose names of the vocabulary, as readers see it. */

const NO_NAMES = { band: "", pace: "", occasion: "" };
const METRES_IN_KILOMETRE = 1000;
/** @type {Record<string, [string, string]>} What the two parts of a round are called. */
const PARTS = { "run-walk": ["run", "walk"], "fast-easy": ["fast", "easy"], "work-rest": ["work", "rest"] };

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
 * Whether nobody knows how often a day it is done, and no session holds it.
 * @param {Dose} dose
 * @returns {boolean}
 */
export function isByOccasion(dose) {
  return dose.every !== undefined || dose.when !== undefined;
}

/**
 * Whether sets and rests are rounds, the last rest included.
 * @param {Dose} dose
 * @returns {boolean}
 */
export function isInterval(dose) {
  return dose.work !== undefined && Object.hasOwn(PARTS, dose.work);
}

/**
 * A dose that was changed from another: a choice of repetitions keeps its width.
 * @param {Dose} before
 * @param {Dose} after
 * @returns {Dose}
 */
export function keepWidth({ reps = 0, repsTo }, after) {
  return repsTo === undefined || after.reps === undefined ? after : { ...after, repsTo: repsTo + after.reps - reps };
}

/**
 * How many times each set is done: 2 where each side takes its turn, or may.
 * @param {Dose} dose
 * @returns {number}
 */
export function sidesOf(dose) {
  return hasTwoSides(dose) || dose.side === "each-or-both" ? 2 : 1;
}

/**
 * The names of a dose; what is gone from the vocabulary has none.
 * @param {Dose} dose
 * @param {Record<string, Record<string, string>>} terms
 * @returns {DoseNames}
 */
export function doseNames({ band, paceWords, when }, terms) {
  const name = (/** @type {string} */ kind, /** @type {string | undefined} */ slug) => (slug !== undefined && Object.hasOwn(terms[kind] ?? {}, slug) ? terms[kind][slug] : "");
  return { band: name("bands", band), pace: name("paces", paceWords), occasion: name("occasions", when) };
}

/**
 * "3 sets of 10, each side"
 * @param {Dose} dose
 * @param {Speech} speech
 * @param {DoseNames} [names]
 * @returns {string}
 */
export function doseLine(dose, speech, names = NO_NAMES) {
  if (isOpen(dose)) return speech.say("dose.open");
  let line = joinDoseParts([countedLine(dose, speech), dose.work === "run" ? speech.say("dose.run") : ""], speech);
  if (dose.warmUp) line = speech.say("dose.warm_up", { time: timePhrase(dose.warmUp, speech, ""), dose: line });
  if (dose.coolDown) line = speech.say("dose.cool_down", { dose: line, time: timePhrase(dose.coolDown, speech, "") });
  const parts = [line, sidePhrase(dose, speech), ratePhrase(dose, speech), pacePhrase(names, speech), holdPhrase(dose, speech)];
  return joinDoseParts([...parts, loadPhrase(dose, speech, names)], speech);
}

/**
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {string}
 */
function countedLine(dose, speech) {
  if (dose.work && isInterval(dose)) {
    return speech.count(`dose.rounds_${dose.work.replaceAll("-", "_")}`, dose.sets, { work: amountAlone(dose, speech), rest: timePhrase(dose.rest, speech, "") });
  }
  if (doseKind(dose) === "hold") {
    const amount = speech.count("dose.seconds_each", dose.hold ?? 0);
    return speech.say("dose.holds_of", { holds: speech.count("dose.holds", dose.sets), amount });
  }
  if (dose.sets !== 1) {
    return speech.say("dose.sets_of", { sets: speech.count("dose.sets", dose.sets), amount: amountInSet(dose, speech) });
  }
  return amountAlone(dose, speech);
}

/**
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {string}
 */
export function amountAlone(dose, speech) {
  if (dose.reps !== undefined) return repsPhrase(dose, speech, "dose.reps", "dose.span_reps");
  if (dose.time !== undefined) return timePhrase(dose.time, speech, "");
  return distancePhrase(dose.distance ?? 0, speech, "");
}

/**
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {string}
 */
function amountInSet(dose, speech) {
  if (dose.reps !== undefined) return repsPhrase(dose, speech, "dose.reps_each", "dose.reps_each_to");
  if (dose.time !== undefined) return timePhrase(dose.time, speech, "_each");
  return distancePhrase(dose.distance ?? 0, speech, "_each");
}

/**
 * Repetitions by the phrase for one number or for a choice, or in the trade's word for them.
 * @param {Dose} dose
 * @param {Speech} speech
 * @param {string} one
 * @param {string} several
 * @returns {string}
 */
function repsPhrase({ reps = 0, repsTo, count }, speech, one, several) {
  const low = speech.number(reps);
  if (count) {
    const amount = repsTo ? speech.say("dose.from_to", { low, high: speech.number(repsTo) }) : low;
    return speech.count(`dose.counted_${count}`, repsTo ?? reps, { amount });
  }
  return repsTo ? speech.count(several, repsTo, { low }) : speech.count(one, reps);
}

/**
 * Whether a distance is said in kilometres: from one on, where two decimals say it whole.
 * @param {number} metres
 * @returns {boolean}
 */
function inKilometres(metres) {
  return metres >= METRES_IN_KILOMETRE && metres % 10 === 0;
}

/**
 * @param {number} metres
 * @param {Speech} speech
 * @param {"" | "_each"} use
 * @returns {string}
 */
export function distancePhrase(metres, speech, use) {
  return inKilometres(metres) ? speech.count("dose.kilometers", metres / METRES_IN_KILOMETRE) : speech.count(`dose.meters${use}`, metres);
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
  if (dose.side === "alternating" && dose.reps !== undefined && dose.repsTo === undefined && dose.reps % 2 === 0) return speech.count("dose.side_alternating_each", dose.reps / 2);
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
 * @param {DoseNames} names
 * @returns {string}
 */
export function loadPhrase(dose, speech, { band }) {
  if (dose.weight !== undefined) return speech.say("dose.weight", { weight: weightPhrase(dose.weight, speech) });
  return band ? speech.say("dose.band", { band }) : "";
}

/**
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {string}
 */
export function ratePhrase({ rate }, speech) {
  return rate ? speech.count("dose.rate", rate) : "";
}

/**
 * @param {DoseNames} names
 * @param {Speech} speech
 * @returns {string}
 */
function pacePhrase({ pace }, speech) {
  return pace ? speech.say("dose.pace", { pace }) : "";
}

/**
 * How often through the day; empty where it is not said.
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {string}
 */
function everyPhrase({ every }, speech) {
  if (every === undefined) return "";
  return every % MINUTE ? speech.count("dose.every_minutes", every) : speech.count("dose.every_hours", every / MINUTE);
}

/**
 * @param {Dose} dose
 * @param {Speech} speech
 * @returns {string}
 */
function restDaysPhrase({ restDays }, speech) {
  return restDays ? speech.count("dose.rest_days", restDays) : "";
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
 * Days a week, times a day or on which occasion, days of rest between.
 * @param {Dose} dose
 * @param {Speech} speech
 * @param {DoseNames} [names]
 * @returns {string}
 */
export function frequencyLine(dose, speech, names = NO_NAMES) {
  const days = dose.days === undefined ? "" : daysPhrase(dose.days, speech);
  const times = dose.times > 1 ? speech.count("dose.times", dose.times) : "";
  return joinDoseParts([days, times, everyPhrase(dose, speech), names.occasion, restDaysPhrase(dose, speech)], speech);
}

/**
 * What the numbers of a dose do not say: warm-up, pace, cool-down, the occasion, days of rest.
 * @param {Dose} dose
 * @param {Speech} speech
 * @param {DoseNames} names
 * @returns {string[]}
 */
export function partsBeside(dose, speech, names) {
  return [
    dose.warmUp ? speech.say("dose.warm_up_alone", { time: timePhrase(dose.warmUp, speech, "") }) : "",
    pacePhrase(names, speech),
    dose.coolDown ? speech.say("dose.cool_down_alone", { time: timePhrase(dose.coolDown, speech, "") }) : "",
    everyPhrase(dose, speech),
    names.occasion,
    restDaysPhrase(dose, speech),
  ].filter(Boolean);
}

/**
 * The same as sentences, beside the numerals on a sheet.
 * @param {Dose} dose
 * @param {Speech} speech
 * @param {DoseNames} names
 * @returns {string[]}
 */
export function sentencesBeside(dose, speech, names) {
  return partsBeside(dose, speech, names).map((part) => speech.say("paper.beside_dose", { part: part.slice(0, 1).toUpperCase() + part.slice(1) }));
}

/**
 * Whether there is anything to rest between.
 * @param {Dose} dose
 * @returns {boolean}
 */
export function hasRest(dose) {
  return dose.rest !== 0 && !isInterval(dose) && (dose.sets !== 1 || sidesOf(dose) === 2);
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
 * @param {string} [scale]  the clinic's own words for it
 * @returns {string}
 */
export function effortScaleLine(dose, speech, scale) {
  const effort = effortLine(dose, speech);
  return effort && (scale ? speech.say("dose.effort_own", { effort, scale }) : speech.say("dose.effort_scale", { effort }));
}

/**
 * A dose in parts: the line, how often, rest, effort, tempo.
 * @param {Dose} dose
 * @param {Speech} speech
 * @param {DoseNames} names
 * @returns {string[]}
 */
export function doseParts(dose, speech, names) {
  return [doseLine(dose, speech, names), frequencyLine(dose, speech, names), restLine(dose, speech), effortLine(dose, speech), tempoLine(dose, speech)];
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
  /** @type {(fact: Fact, how: string) => Fact} */
  const gone = (one, how) => ({ ...one, word: speech.say("dose.word_of", { unit: one.word, what: speech.say(`dose.word_${how}`) }) });
  if (isOpen(dose)) return [];
  const kind = doseKind(dose);
  const counted =
    kind === "hold" ? fact("seconds", dose.hold ?? 0, "hold")
      : kind === "reps" ? { ...fact(dose.count ?? "reps", dose.repsTo ?? dose.reps ?? 0, "reps"), numeral: spanNumeral([dose.reps ?? 0, dose.repsTo ?? dose.reps ?? 0], speech) }
        : kind === "time" ? timeFact(dose.time ?? 0, "")
          : metresFact(dose.distance ?? 0, fact);
  /** @type {Fact[]} */
  const facts = [];
  if (dose.work && isInterval(dose)) {
    const [work, rest] = PARTS[dose.work];
    facts.push(fact("rounds", dose.sets, "sets"), gone(counted, work), gone(timeFact(dose.rest, ""), rest));
  } else {
    // The order of the sides is said by `turnLine` beside the numbers.
    const side = hasTwoSides(dose) ? speech.say("dose.side_both") : sidePhrase(dose, speech);
    const last = dose.work === "run" ? gone(counted, "run") : counted;
    facts.push(kind === "hold" ? fact("holds", dose.sets, "holds") : fact("sets", dose.sets, "sets"), { ...last, word: joinDoseParts([last.word, side], speech) });
  }
  if (kind === "reps" && dose.hold !== undefined) facts.push(fact("hold_seconds", dose.hold, "hold"));
  if (dose.rate !== undefined) facts.push(fact("rate", dose.rate, "rate"));
  if (dose.weight !== undefined) {
    const number = shownWeight(dose.weight, speech.inPounds);
    facts.push({ numeral: speech.number(number), word: speech.inPounds ? speech.count("dose.word_lb", number) : speech.say("dose.word_kg"), kind: "weight" });
  }
  if (hasRest(dose)) facts.push(timeFact(dose.rest, "rest"));
  if (dose.times > 1) facts.push(fact("times", dose.times, "times"));
  if (dose.every !== undefined) facts.push(dose.every % MINUTE ? fact("every_minutes", dose.every, "every") : fact("every_hours", dose.every / MINUTE, "every"));
  if (dose.days !== undefined) facts.push(fact("days", dose.days, "days"));
  if (dose.effort) facts.push({ numeral: spanNumeral(dose.effort, speech), word: speech.say("dose.word_effort"), kind: "effort" });
  return facts;
}

/**
 * @param {number} metres
 * @param {(word: string, amount: number, kind: string) => Fact} fact
 * @returns {Fact}
 */
function metresFact(metres, fact) {
  return inKilometres(metres) ? fact("kilometers", metres / METRES_IN_KILOMETRE, "meters") : fact("meters", metres, "meters");
}

/**
 * @param {number[]} span
 * @param {Speech} speech
 * @returns {string}
 */
function spanNumeral(span, speech) {
  const [low, high] = span.map((value) => speech.number(value));
  return low === high ? low : speech.say("dose.range", { low, high });
}
