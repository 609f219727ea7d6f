/** The stages of an exercise's dose on the clinician's page: a line each, to change or to take out.  Keeps nothing. */

import { most_stages as MOST_STAGES, most_weeks as MOST_WEEKS } from "../../../../handouts/bundle/code.json";
import { pickedEntry, wholeDose } from "./book.js";
import { boundsOf } from "./code.js";
import { make, makeButton, makeSelect } from "./dom.js";
import { doseKind } from "./dose_words.js";
import { fieldName } from "./refusals.js";
import { applyRules, stageChange, stageDoses, stagedFields } from "./stages.js";
import { exactWeight, typedWeight } from "./weight.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./code.js").Pick} Pick */
/** @typedef {import("./speech.js").Speech} Speech */
/** @typedef {import("./stages.js").Stage} Stage */
/** @typedef {(code: string, stages: Stage[]) => boolean} SetStages  Whether they were taken over. */

const FIRST_STEP = 2;

/**
 * @param {Pick} pick
 * @param {Book} book
 * @param {Speech} speech
 * @param {SetStages} set
 * @returns {HTMLElement[]}
 */
export function stageRows(pick, book, speech, set) {
  const stages = pick.stages ?? [];
  const doses = stageDoses(wholeDose(pick, book), stages);
  const { title, dose: own, range } = pickedEntry(pick, book);
  const fields = stagedFields(doses[0]).filter((name) => boundsOf(name, own, range) && Object.hasOwn(doses[0], name));
  const called = (/** @type {string} */ act, /** @type {number} */ at) => speech.say("clinician.stage_acts_on", { act, n: speech.number(at + 2), exercise: title });
  const put = (/** @type {Stage[]} */ next) => set(pick.code, next);
  return stages.map((stage, at) => {
    const swap = (/** @type {Stage} */ other) => put(stages.map((one, place) => (place === at ? other : one)));
    const weeks = Array.from({ length: MOST_WEEKS - 1 }, (_, place) => ({ value: String(place + 2), text: speech.say("clinician.stage_week", { n: speech.number(place + 2) }) }));
    const easy = book.clinic.next ? [{ value: "0", text: speech.count("clinician.stage_easy", book.clinic.next.after) }] : [];
    const start = makeSelect([...weeks, ...easy], String(stage.week), (week) => swap({ ...stage, week: Number(week) }) || (start.value = String(stage.week)), { id: `stage-${pick.code}-${at}`, "aria-label": called(speech.say("clinician.stage_begins"), at) });
    const inputs = fields.flatMap((name) => [" ", numberOf(name, doses, at, stage, { id: `stage-${pick.code}-${at}-${name}`, "aria-label": called(fieldName(name, speech), at) }, speech, swap)]);
    const out = makeButton(speech.say("clinician.take_out"), () => put(stages.filter((_, place) => place !== at)), { class: "quiet", "aria-label": called(speech.say("clinician.take_out"), at) });
    return make("p", { class: "sentence stage" }, [start, ...inputs, " ", out]);
  });
}

/**
 * @param {string} name
 * @param {import("./code.js").Dose[]} doses
 * @param {number} at
 * @param {Stage} stage
 * @param {Record<string, string>} attributes
 * @param {Speech} speech
 * @param {(stage: Stage) => boolean} swap
 * @returns {HTMLElement}
 */
function numberOf(name, doses, at, stage, attributes, speech, swap) {
  const kept = Number(/** @type {Record<string, unknown>} */ (/** @type {unknown} */ (doses[at + 1]))[name]);
  const shown = String(name === "weight" ? exactWeight(kept, speech.inPounds) : kept);
  const input = /** @type {HTMLInputElement} */ (make("input", { type: "number", value: shown, step: name === "weight" ? "any" : "1", min: "0", ...attributes }));
  input.style.inlineSize = `${shown.length + 1.2}ch`;
  input.addEventListener("change", () => {
    const value = name === "weight" ? typedWeight(Number(input.value), speech.inPounds) : Number(input.value);
    const change = stageChange(doses[at], /** @type {import("./code.js").Dose} */ ({ ...doses[at + 1], [name]: value }));
    if (!change || !Object.keys(change).length || !swap({ ...stage, change })) input.value = shown;
  });
  return make("label", {}, [make("span", {}, [fieldName(name, speech), " "]), input]);
}

/**
 * One stage more: two weeks later, with what the clinic's rule adds; null where the range has no room.
 * @param {Pick} pick
 * @param {Book} book
 * @returns {Stage[] | null}
 */
export function oneStageMore(pick, book) {
  const stages = pick.stages ?? [];
  const { range } = pickedEntry(pick, book);
  const dose = stageDoses(wholeDose(pick, book), stages).at(-1) ?? wholeDose(pick, book);
  const last = stages.at(-1)?.week ?? 1;
  const week = last && last < MOST_WEEKS ? Math.min(last + FIRST_STEP, MOST_WEEKS) : 0;
  if ((!week && !book.clinic.next) || stages.length >= MOST_STAGES) return null;
  const step = book.clinic.next?.steps ?? {};
  const kind = doseKind(dose);
  /** @type {Record<string, number>[]} */
  const tries = [{ [kind]: step[kind] ?? 1 }, { sets: step.sets ?? 1 }, { weight: 0.5 }];
  for (const add of tries) {
    const [more] = applyRules(dose, [{ week, add }], range);
    if (more) return [...stages, more];
  }
  return null;
}
