/** Why a link cannot be opened, in words for a patient. */

import { lookUp } from "../bundle/code.js";

/**
 * @param {import("../bundle/code.js").Refusal} refusal
 * @param {import("./book.js").MyBook} book
 * @param {import("../bundle/speech.js").Speech} speech
 * @returns {string}
 */
export function explainRefusal(refusal, book, speech) {
  const title = (/** @type {string | undefined} */ code) => (code && lookUp(book.exercises, code)?.title) || code || "";
  const exercise = title(refusal.exercise);
  switch (refusal.kind) {
    case "newer":
      return speech.say("phone.refused_newer");
    case "older":
      return refusal.exercise ? speech.say("phone.refused_dose", { exercise }) : speech.say("phone.refused_older");
    case "unknown":
      return speech.say("phone.refused_unknown");
    case "elsewhere":
      return speech.say("phone.refused_elsewhere");
    case "withdrawn":
      return refusal.replacedBy
        ? speech.say("phone.refused_replaced", { exercise: String(refusal.value), other: title(refusal.replacedBy) })
        : speech.say("phone.refused_withdrawn", { exercise: String(refusal.value) });
    case "no-dose":
      return speech.say("phone.refused_no_dose", { exercise });
    case "out-of-bounds":
      return refusal.exercise ? speech.say("phone.refused_bounds", { exercise }) : speech.say("phone.refused_damaged");
    default:
      return speech.say("phone.refused_damaged");
  }
}
