/**
 * What a bundle takes over from the programme or the ready-made bundle that it was begun from, and where an exercise
 * stands in it.  Pure; the data are written by handouts/bundle/origins.py, the rule for `ready` is that of handouts/publication/steps.py.
 */

import { lookUp } from "./code.js";

/** @typedef {import("./code.js").Origin} Origin */
/** @typedef {{stop: string[], ask: string[], care: string[]}} CautionNames */
/** @typedef {{name: string, lines: string[][], codes: string[]}} ProgrammeStep  `lines`: conditions, each a label and a text. */
/** @typedef {{title: string, named: string[], cues: string[], day: string[], cautions: CautionNames, steps: ProgrammeStep[],
 *   rules?: {week: number, add: Record<string, number>}[]}} Programme  `rules`: how doses go on over the weeks, for the clinician to accept. */
/**
 * @typedef {{programmes: Record<string, Programme>, bundles: Record<string, {programme: string, step: number, cautions: CautionNames}>}} Origins
 * @typedef {{origins: Origins, exercises: Record<string, {after: string[], step: string}>}} StepBook  `after`: what must be
 *   mastered before an exercise, by code; `step`: the name of its step where it stands alone.
 * @typedef {{programme: Programme | null, step: ProgrammeStep | null, name: string, cautions: CautionNames, lost: "" | "origin" | "step"}} BundlePlace
 *   `name`: the programme's, with the step where there is one; `lost`: "origin" where the bundle or the programme is not there,
 *   and with it some cautions, "step" where only the step is not.
 */

/** A bundle that was begun from nothing. @type {BundlePlace} */
export const NO_PLACE = { programme: null, step: null, name: "", cautions: { stop: [], ask: [], care: [] }, lost: "" };

/**
 * What a bundle was begun from, where its code holds that.
 * @param {object} bundle
 * @returns {Origin | undefined}
 */
export function originOf(bundle) {
  return /** @type {{origin?: Origin}} */ (bundle).origin;
}

/**
 * What an origin stands for; says what of it is lost, never passes it over.  The twin of begun_from in handouts/bundle/origins.py.
 * @param {Origin | undefined} origin
 * @param {StepBook} book
 * @returns {BundlePlace}
 */
export function placeOf(origin, book) {
  if (!origin) return NO_PLACE;
  const { bundles, programmes } = book.origins;
  const bundle = origin.kind === "bundle" ? lookUp(bundles, origin.slug) : undefined;
  const { slug, step } = bundle ? { slug: bundle.programme, step: bundle.step } : { slug: origin.kind === "programme" ? origin.slug : "", step: origin.step };
  const programme = lookUp(programmes, slug) ?? null;
  const both = (/** @type {keyof CautionNames} */ kind) => [...new Set([...(bundle?.cautions[kind] ?? []), ...(programme?.cautions[kind] ?? [])])];
  const name = programme ? (programme.named[step - 1] ?? programme.title) : "";
  const gone = (origin.kind === "bundle" && !bundle) || (!programme && (slug !== "" || !bundle));
  const lost = gone ? "origin" : programme && step && !programme.steps[step - 1] ? "step" : "";
  return { programme, step: programme?.steps[step - 1] ?? null, name, cautions: { stop: both("stop"), ask: both("ask"), care: both("care") }, lost };
}

/**
 * The phrase over an exercise's condition for going on: for the next exercise where one is there, at the goal, or done well.
 * @param {string} code
 * @param {string[]} codes  the exercises beside which it is shown
 * @param {BundlePlace} place
 * @param {StepBook} book
 * @returns {"steps.ready_next" | "steps.ready_goal" | "steps.ready_done"}
 */
export function readyPhrase(code, codes, { programme }, book) {
  const shown = [...codes, ...(programme?.steps ?? []).flatMap((step) => step.codes)];
  if (shown.some((other) => lookUp(book.exercises, other)?.after.includes(code))) return "steps.ready_next";
  return programme?.steps.at(-1)?.codes.includes(code) ? "steps.ready_goal" : "steps.ready_done";
}

/**
 * The name of an exercise's step in the programme; outside of one that on which all programmes agree; empty for none.
 * @param {string} code
 * @param {BundlePlace} place
 * @param {StepBook} book
 * @returns {string}
 */
export function stepName(code, { programme }, book) {
  return programme ? (programme.steps.find(({ codes }) => codes.includes(code))?.name ?? "") : book.exercises[code].step;
}
