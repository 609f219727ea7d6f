/**
 * A bundle as an HL7 FHIR R5 PlanDefinition with contained ActivityDefinitions, without a patient: the twin of
 * handouts/bundle/fhir.py.
 */

import { sayBegun } from "./chart.js";
import { namesOf, stampIn, wholeDose } from "./book.js";
import { doseParts, joinDoseParts } from "./dose_words.js";
import { sayBeside } from "./said_stages.js";
import { locationName } from "./next_visit.js";
import { originOf, placeOf } from "./steps.js";
import { exerciseSeconds } from "./sums.js";
import { hundredthsOf } from "./weight.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./code.js").Dose} Dose */
/** @typedef {import("./speech.js").Speech} Speech */
/** @typedef {Record<string, unknown>} Json */

const UCUM = "http://unitsofmeasure.org";
const PLAN_TYPE = "http://terminology.hl7.org/CodeSystem/plan-definition-type";

/**
 * The address of a patient's exercises on the clinic's site.
 * @param {string} site
 * @param {string} language
 * @param {string} code
 * @returns {string}
 */
export function patientLink(site, language, code) {
  return `${site}${language}/my/#${code}`;
}

/**
 * The resource as plain JSON values.
 * @param {import("./code.js").Bundle} bundle
 * @param {string} code
 * @param {Book} book
 * @param {Speech} speech
 * @returns {Json}
 */
export function fhirPlan(bundle, code, book, speech) {
  const { name, site, invented } = book.clinic;
  const begun = sayBegun(bundle, book, speech);
  const origin = placeOf(originOf(bundle), book).name;
  return {
    resourceType: "PlanDefinition",
    language: book.language,
    contained: bundle.picks.map((pick) => activityOf(pick, bundle.weeks, stampIn(pick.code, bundle.language, book), book, speech)),
    identifier: [{ system: `${site}bundle-code`, value: code }],
    ...(book.version ? { version: book.version } : {}),
    title: speech.say("clinician.chart_title", { clinic: name, location: locationName(bundle.location, book) }),
    ...(begun.length ? { description: begun.join("\n\n") } : {}),
    type: { coding: [{ system: PLAN_TYPE, code: "order-set" }] },
    status: "active",
    experimental: invented,
    publisher: name,
    relatedArtifact: [
      ...(origin ? [{ type: "derived-from", display: origin }] : []),
      { type: "documentation", document: { url: patientLink(site, bundle.language, code), language: bundle.language } },
      ...(bundle.given ?? []).map((one) => ({ type: "documentation", display: book.handed[one][0], document: { url: `${site}${bundle.language}/${book.given[one]}/`, language: bundle.language } })),
    ],
    action: bundle.picks.map((pick, at) => ({
      linkId: pick.code,
      title: book.exercises[pick.code].title,
      ...(at ? { relatedAction: [{ targetId: bundle.picks[at - 1].code, relationship: "after" }] } : {}),
      definitionCanonical: `#${pick.code}`,
    })),
  };
}

/**
 * @param {import("./code.js").Pick} pick
 * @param {number} weeks
 * @param {string} stamp
 * @param {Book} book
 * @param {Speech} speech
 * @returns {Json}
 */
function activityOf(pick, weeks, stamp, book, speech) {
  const { title } = book.exercises[pick.code];
  const { site, invented } = book.clinic;
  const dose = wholeDose(pick, book);
  const { occasion } = namesOf(dose, book);
  return {
    resourceType: "ActivityDefinition",
    id: pick.code,
    extension: doseExtensions(dose, `${site}fhir/dose-`),
    identifier: [{ system: `${site}exercise-code`, value: pick.code }],
    ...(stamp ? { version: stamp } : {}),
    title,
    status: "active",
    experimental: invented,
    description: [joinDoseParts(doseParts(dose, speech, namesOf(dose, book)), speech), ...sayBeside(pick, book, speech)].join("\n\n"),
    kind: "ServiceRequest",
    intent: "plan",
    code: { coding: [{ system: `${site}exercise-code`, code: pick.code, display: title }], text: title },
    timingTiming: { repeat: repeatOf(dose, weeks) },
    ...(occasion ? { asNeededCodeableConcept: { text: occasion } } : {}),
  };
}

/**
 * How often, for how long, and how long each time where that is known.
 * @param {Dose} dose
 * @param {number} weeks
 * @returns {Json}
 */
function repeatOf(dose, weeks) {
  const seconds = exerciseSeconds(dose);
  const length = seconds === null ? {} : { duration: seconds, durationUnit: "s" };
  let often = {};
  if (dose.every !== undefined) often = { frequency: 1, period: dose.every, periodUnit: "min" };
  // Nobody knows how often: `asNeededCodeableConcept` says when.
  else if (dose.when !== undefined) often = {};
  else if (dose.days !== undefined) often = { frequency: dose.days * dose.times, period: 1, periodUnit: "wk" };
  else if (dose.times > 1) often = { frequency: dose.times, period: 1, periodUnit: "d" };
  return { boundsDuration: quantityOf(weeks, "weeks", "wk"), ...length, ...often };
}

/**
 * @param {number} value
 * @param {string} unit
 * @param {string} code
 * @returns {Json}
 */
function quantityOf(value, unit, code) {
  return { value, unit, system: UCUM, code };
}

/**
 * @param {Dose} dose
 * @param {string} address
 * @returns {Json[]}
 */
function doseExtensions(dose, address) {
  /** @type {Json[]} */
  const found = [];
  const add = (/** @type {string} */ name, /** @type {number | undefined} */ value, /** @type {string} */ unit, /** @type {string} */ code) => {
    if (value !== undefined) found.push({ url: `${address}${name}`, valueQuantity: quantityOf(value, unit, code) });
  };
  add("sets", dose.sets, "sets", "{set}");
  add("repetitions", dose.reps, "repetitions", "{repetition}");
  add("hold", dose.hold, "s", "s");
  add("time", dose.time, "s", "s");
  add("distance", dose.distance, "m", "m");
  add("pace", dose.pace, "m/s", "m/s");
  add("times-a-day", dose.times > 1 ? dose.times : undefined, "times", "{time}");
  add("repetitions-up-to", dose.repsTo, "repetitions", "{repetition}");
  add("rate", dose.rate, "a minute", "/min");
  add("warm-up", dose.warmUp, "s", "s");
  add("cool-down", dose.coolDown, "s", "s");
  add("rest-days", dose.restDays, "days", "d");
  if (dose.weight !== undefined) {
    const [hundredths, inPounds] = hundredthsOf(dose.weight) ?? [dose.weight * 100, false];
    add("weight", hundredths / 100, inPounds ? "lb" : "kg", inPounds ? "[lb_av]" : "kg");
  }
  add("rest", dose.rest || undefined, "s", "s");
  ["go", "hold", "back", "pause"].forEach((name, at) => add(`tempo-${name}`, dose.tempo?.[at], "s", "s"));
  if (dose.effort) {
    const [low, high] = dose.effort.map((value) => quantityOf(value, "of 10", "{score}"));
    found.push({ url: `${address}effort`, valueRange: { low, high } });
  }
  if (dose.side !== "together") found.push({ url: `${address}side`, valueCode: dose.side });
  if (dose.band !== undefined) found.push({ url: `${address}band`, valueCode: dose.band });
  for (const [name, code] of [["count", dose.count], ["work", dose.work], ["pace-words", dose.paceWords]]) if (code) found.push({ url: `${address}${name}`, valueCode: code });
  return found;
}
