/**
 * What a clinician should look at before a bundle goes home, as sentences: the twin of
 * handouts/bundle/checks.py.  Where nothing is found, nothing is said.
 */

import { aboutMinutes } from "./dose_words.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./speech.js").Speech} Speech */
/** @typedef {{look: "before" | "both" | "limit" | "ask" | "many" | "long", code: string, other: string, text: string}} Finding */

const SECONDS_IN_MINUTE = 60;

/**
 * Findings about picks in order; `ticked` holds, by code, why an exercise reaches past a limit that was ticked.
 * @param {string[]} codes
 * @param {Book} book
 * @param {import("./sums.js").SessionTotals} totals
 * @param {Map<string, string[]>} ticked
 * @returns {Finding[]}
 */
export function checkPicks(codes, book, totals, ticked) {
  /** @type {Finding[]} */
  const found = [];
  codes.forEach((code, at) => {
    const entry = book.exercises[code];
    for (const text of ticked.get(code) ?? []) found.push({ look: "limit", code, other: "", text });
    for (const other of entry.before) {
      const place = codes.indexOf(other);
      if (place >= 0) found.push({ look: place > at ? "before" : "both", code, other, text: "" });
    }
    for (const other of entry.ask) found.push({ look: "ask", code, other, text: "" });
  });
  if (codes.length > book.policy.exercises) found.push({ look: "many", code: "", other: "", text: "" });
  if (totals.seconds > book.policy.minutes * SECONDS_IN_MINUTE) found.push({ look: "long", code: "", other: "", text: "" });
  return found;
}

/**
 * The findings in words, each once.
 * @param {Finding[]} findings
 * @param {number} count
 * @param {import("./sums.js").SessionTotals} totals
 * @param {Book} book
 * @param {Speech} speech
 * @returns {{look: string, text: string}[]}
 */
export function sayFindings(findings, count, totals, book, speech) {
  /** @type {Map<string, string>} */
  const lines = new Map();
  for (const finding of findings) {
    const text = findingLine(finding, findings, count, totals, book, speech);
    if (!lines.has(text)) lines.set(text, finding.look);
  }
  return [...lines].map(([text, look]) => ({ look, text }));
}

/**
 * @param {Finding} finding
 * @param {Finding[]} findings
 * @param {number} count
 * @param {import("./sums.js").SessionTotals} totals
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string}
 */
function findingLine(finding, findings, count, totals, book, speech) {
  const { policy } = book;
  if (finding.look === "many") return speech.count("clinician.check_many", count, { limit: speech.number(policy.exercises) });
  if (finding.look === "long") {
    const limit = speech.count("dose.minutes", policy.minutes);
    return speech.say("clinician.check_long", { session: aboutMinutes(totals.seconds, speech), limit });
  }
  const exercise = book.exercises[finding.code].title;
  if (finding.look === "limit") return speech.say("clinician.check_limit", { exercise, finding: finding.text });
  if (finding.look === "ask") {
    const alike = findings.filter((item) => item.look === "ask" && item.other === finding.other);
    const exercises = speech.join(alike.map((item) => book.exercises[item.code].title));
    const caution = book.cautions[finding.other];
    return speech.say("clinician.check_ask", { exercises, when: caution.when, do: caution.do });
  }
  return speech.say(`clinician.check_${finding.look}`, { exercise, other: book.exercises[finding.other].title });
}
