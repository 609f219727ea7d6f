/** Parts of a session: warm-up, rounds, cool-down; in which order it is gone through then, and in words: the twin of handouts/dose/parts.py.  Pure. */

import { isByOccasion, timePhrase } from "./dose_words.js";

/** @typedef {import("./code.js").Dose} Dose */
/** @typedef {import("./speech.js").Speech} Speech */
/**
 * @template Row
 * @typedef {{row: Row, dose: Dose, round: number, rest: number}} Visit
 * An exercise as it is come to: with its whole dose, or, in rounds from 1, with one set; `rest` before it, after the round before.
 */

const ROUNDS = "rounds";

/**
 * Neighbours of one part; what is done by occasion is in none.
 * @template {{dose: Dose, part?: string}} Row
 * @param {Row[]} rows
 * @returns {{part: string, rows: Row[]}[]}
 */
function groupsOf(rows) {
  /** @type {{part: string, rows: Row[]}[]} */
  const groups = [];
  for (const row of rows.filter(({ dose }) => !isByOccasion(dose))) {
    const last = groups.at(-1);
    if (last && last.part === (row.part ?? "")) last.rows.push(row);
    else groups.push({ part: row.part ?? "", rows: [row] });
  }
  return groups;
}

/**
 * The exercises of a session as they are come to.
 * @template {{dose: Dose, part?: string}} Row
 * @param {Row[]} all
 * @param {number} [rest]  after each round but the last
 * @returns {Visit<Row>[]}
 */
export function visitsOf(all, rest = 0) {
  return groupsOf(all).flatMap(({ part, rows }) => {
    if (part !== ROUNDS) return rows.map((row) => ({ row, dose: row.dose, round: 0, rest: 0 }));
    return Array.from({ length: Math.max(...rows.map(({ dose }) => dose.sets)) }, (_, at) => {
      const still = rows.filter(({ dose }) => dose.sets > at);
      return still.map((row, place) => ({ row, dose: { ...row.dose, sets: 1 }, round: at + 1, rest: at && !place ? rest : 0 }));
    }).flat();
  });
}

/**
 * A line for each part; none where all is the main part.
 * @param {{dose: Dose, part?: string, title: string, stages?: unknown[]}[]} rows
 * @param {number} rest
 * @param {Speech} speech
 * @returns {string[]}
 */
export function sayParts(rows, rest, speech) {
  if (!rows.some(({ part }) => part)) return [];
  return groupsOf(rows).map(({ part, rows: own }) => {
    const exercises = speech.join(own.map(({ title }) => title));
    const name = speech.say({ "warm-up": "dose.part_warm_up", rounds: "dose.part_rounds", "cool-down": "dose.part_cool_down" }[part] ?? "dose.part_main", { exercises });
    if (part !== ROUNDS) return name;
    const sets = new Set(own.map(({ dose }) => dose.sets));
    const isEven = sets.size === 1 && !own.some(({ stages }) => stages?.length);
    const times = isEven ? speech.count("dose.rounds", Math.max(...sets)) : speech.say("dose.rounds_all");
    const after = rest ? [speech.say("dose.rounds_rest", { time: timePhrase(rest, speech, "") })] : [];
    return [name, times, ...after, speech.say("dose.rounds_instead")].join(" ");
  });
}

/**
 * The dose by which sides are changed: in a round one set is done on each.
 * @param {Dose} dose
 * @param {string} [part]
 * @returns {Dose}
 */
export function turnDose(dose, part) {
  return part === ROUNDS ? { ...dose, sets: 1 } : dose;
}

/**
 * At an exercise the part that it is done in; none for the main part.
 * @param {{part?: string}} pick
 * @param {Speech} speech
 * @returns {string[]}
 */
export function sayPartAt({ part }, speech) {
  const name = { "warm-up": "dose.in_warm_up", rounds: "dose.in_rounds", "cool-down": "dose.in_cool_down" }[part ?? ""];
  return name ? [speech.say(name)] : [];
}
