/** Why a link or a code cannot be opened, in words for a clinician. */

import { lookUp } from "./code.js";
import { exactWeight } from "./weight.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./speech.js").Speech} Speech */

/**
 * @param {import("./code.js").Refusal} refusal
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string}
 */
export function sayRefusal(refusal, book, speech) {
  const title = (/** @type {string | undefined} */ code) => (code && lookUp(book.exercises, code)?.title) || code || "";
  const exercise = title(refusal.exercise);
  const value = typeof refusal.value === "number" ? speech.number(refusal.value) : String(refusal.value ?? "");
  switch (refusal.kind) {
    case "newer":
      return speech.say("clinician.refused_newer");
    case "older":
      return refusal.exercise ? speech.say("clinician.refused_older", { exercise }) : speech.say("clinician.refused_older_format");
    case "unknown":
      return speech.say("clinician.refused_unknown", { what: value });
    case "elsewhere":
      return speech.say("clinician.refused_elsewhere");
    case "withdrawn":
      return refusal.replacedBy
        ? speech.say("clinician.refused_replaced", { exercise: value, other: title(refusal.replacedBy) })
        : speech.say("clinician.refused_withdrawn", { exercise: value });
    case "repeated":
      return speech.say("clinician.refused_repeated", { exercise });
    case "no-dose":
      return speech.say("clinician.no_dose", { exercises: exercise });
    case "out-of-bounds":
      return sayOutOfBounds(refusal, exercise, value, speech);
    default:
      return speech.say("clinician.refused_damaged");
  }
}

/**
 * @param {import("./code.js").Refusal} refusal
 * @param {string} exercise
 * @param {string} value
 * @param {Speech} speech
 * @returns {string}
 */
function sayOutOfBounds(refusal, exercise, value, speech) {
  const isWeight = refusal.field === "weight";
  const number = (/** @type {number} */ one) => speech.number(isWeight ? exactWeight(one, speech.inPounds) : one);
  const ends = { low: number(refusal.low ?? 0), high: number(refusal.high ?? 0) };
  if (!refusal.exercise) return speech.say("clinician.refused_count", { value, ...ends });
  if (refusal.field === "stages") return speech.say("clinician.stage_refused", { exercise });
  if (refusal.field === "substitute" || refusal.field === "part") return speech.say(`clinician.${refusal.field}_refused`, { exercise });
  const field = fieldName(refusal.field ?? "", speech);
  if (refusal.field === "tempo") return speech.say("clinician.refused_listed", { exercise, field, value });
  if (refusal.low === undefined) return speech.say("clinician.refused_movable", { exercise, field });
  return speech.say("clinician.refused_bounds", { exercise, field, value: isWeight ? number(Number(refusal.value)) : value, ...ends });
}

/**
 * The name of a field of a dose.
 * @param {string} field
 * @param {Speech} speech
 * @returns {string}
 */
export function fieldName(field, speech) {
  return speech.say(field === "weight" && speech.inPounds ? "clinician.field_weight_lb" : `clinician.field_${field}`);
}
