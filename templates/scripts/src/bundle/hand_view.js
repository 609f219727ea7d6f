/** The sheet as a sentence, and all ways to hand a bundle over: print, link, QR code, chart, record, file. */

import { most_weeks as MOST_WEEKS } from "../../../../handouts/bundle/code.json";
import { hasOrigin } from "./book.js";
import { chartText } from "./chart.js";
import { encodeBundle } from "./code.js";
import { make, makeQrPicture, makeSelect } from "./dom.js";
import { fhirPlan, patientLink } from "./fhir.js";
import { drawQr } from "./qr.js";
import { fillPieces } from "./sentence.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./draft.js").Draft} Draft */
/** @typedef {import("./draft.js").Sheet} Sheet */
/** @typedef {import("./speech.js").Speech} Speech */
/** @typedef {{code: string, link: string, chart: string, fhir: string, sheet: string, second: string, here: string}} Handover
 * Everything as text; `here` is the patient's page where this site lies; `sheet` and `second` are addresses, the second empty where one language is enough. */

/**
 * Everything that can be handed over, or null where there is nothing yet or the bundle is refused.
 * @param {Draft} draft
 * @param {Book} book
 * @param {Speech} speech
 * @param {string[]} findings
 * @param {string[]} visit  what a log says that the patient showed
 * @returns {Handover | null}
 */
export function handOver(draft, book, speech, findings, visit) {
  const { bundle } = draft;
  if (!bundle.picks.length) return null;
  const code = encodeBundle(bundle, book);
  if (typeof code !== "string") return null;
  const chart = chartText(bundle, code, book, speech, { limits: tickedNames(draft, book, speech), findings, visit });
  const fhir = JSON.stringify(fhirPlan(bundle, code, book, speech), null, 2);
  return { code, link: patientLink(book.clinic.site, bundle.language, code), chart, fhir, here: `../../${bundle.language}/my/index.html?look#${code}`, ...sheetAddresses(draft, book) };
}

/**
 * The addresses of the sheets from the bundle page, with what they need in the fragment.  The code in each is in its
 * own language, so that the sheet's QR code opens the page in that language.
 * @param {Draft} draft
 * @param {Book} book
 * @returns {{sheet: string, second: string}}
 */
function sheetAddresses(draft, book) {
  const { paper, size, layout, line, second } = draft.sheet;
  const wishes = [`paper=${paper}`, `layout=${layout}`, ...(line ? ["line=yes"] : [])].join("&");
  const address = (/** @type {string} */ language) => {
    const code = encodeBundle({ ...draft.bundle, language }, book);
    return typeof code === "string" ? `../../${language}/sheets/${size}/index.html#${code}&${wishes}` : "";
  };
  const tongue = book.tongues.find(({ tag }) => tag === second && tag !== draft.bundle.language);
  const whole = tongue && hasOrigin(draft.bundle, tongue) && !draft.bundle.picks.some((pick) => tongue.lacks.includes(pick.code));
  return { sheet: address(draft.bundle.language), second: whole ? address(second) : "" };
}

/**
 * The limits ticked, each with its phase where it has more than one.
 * @param {Draft} draft
 * @param {Book} book
 * @param {Speech} speech
 * @returns {string[]}
 */
export function tickedNames(draft, book, speech) {
  return book.limits
    .filter((limit) => Object.hasOwn(draft.limits, limit.slug))
    .map((limit) => {
      const phase = limit.phases[draft.limits[limit.slug]];
      return limit.phases.length > 1 && phase ? speech.say("clinician.chart_limit", { limit: limit.name, phase: phase.name }) : limit.name;
    });
}

/**
 * The sentence "In [Spanish], from [Market Street], on [Letter] …".
 * @param {HTMLElement} line
 * @param {Draft} draft
 * @param {Book} book
 * @param {Speech} speech
 * @param {{bundle: (part: Partial<import("./code.js").Bundle>) => void, sheet: (part: Partial<Sheet>) => void}} set
 */
export function showSheetSentence(line, draft, book, speech, set) {
  const focused = document.activeElement instanceof HTMLElement && line.contains(document.activeElement) ? document.activeElement.id : "";
  const { bundle, sheet } = draft;
  const choice = (/** @type {string} */ name, /** @type {{value: string, text: string}[]} */ options, /** @type {string} */ value, /** @type {(value: string) => void} */ changed) => {
    if (options.length === 1) return options[0].text;
    /** @type {Record<string, string>} */
    const attributes = { id: `sheet-${name}`, "aria-label": speech.say(`clinician.sheet_${name}`) };
    if (name === "language") attributes["aria-keyshortcuts"] = "Alt+S";
    return makeSelect(options, value, changed, attributes);
  };
  const named = (/** @type {string} */ kind, /** @type {string[]} */ values) => values.map((value) => ({ value, text: speech.say(`clinician.${kind}_${value}`) }));
  const weeks = Array.from({ length: MOST_WEEKS }, (_, at) => at + 1).map((count) => ({ value: String(count), text: speech.count("clinician.weeks", count) }));
  line.replaceChildren(
    ...fillPieces(speech.pieces("clinician.sheet_sentence"), {
      language: [choice("language", book.tongues.map(({ tag, name }) => ({ value: tag, text: name })), bundle.language, (language) => set.bundle({ language }))],
      location: [choice("location", book.clinic.locations.map(({ slug, name }) => ({ value: slug, text: name })), bundle.location, (location) => set.bundle({ location }))],
      paper: [choice("paper", named("paper", book.papers), sheet.paper, (paper) => set.sheet({ paper }))],
      size: [choice("size", named("size", book.sizes), sheet.size, (size) => set.sheet({ size }))],
      layout: [choice("layout", named("layout", ["compact", "page"]), sheet.layout, (layout) => set.sheet({ layout: layout === "compact" ? "compact" : "page" }))],
      weeks: [choice("weeks", weeks, String(bundle.weeks), (count) => set.bundle({ weeks: Number(count) }))],
    }),
  );
  const cues = Object.entries(book.cues);
  if (cues.length) {
    const options = [{ value: "", text: speech.say("clinician.cue_none") }, ...cues.map(([value, text]) => ({ value, text }))];
    line.append(" ", ...fillPieces(speech.pieces("clinician.cue_sentence"), { cue: [choice("cue", options, book.cues[bundle.cue ?? ""] ? (bundle.cue ?? "") : "", (cue) => set.bundle({ cue: cue || undefined }))] }));
  }
  const others = book.tongues.filter((tongue) => tongue.tag !== bundle.language && hasOrigin(bundle, tongue) && !bundle.picks.some((pick) => tongue.lacks.includes(pick.code)));
  if (others.length) {
    const options = [{ value: "", text: speech.say("clinician.sheet_one_language") }, ...others.map(({ tag, name }) => ({ value: tag, text: name }))];
    const known = others.some(({ tag }) => tag === sheet.second) ? sheet.second : "";
    line.append(" ", ...fillPieces(speech.pieces("clinician.sheet_second_sentence"), { language: [choice("second", options, known, (second) => set.sheet({ second }))] }));
  }
  if (focused) document.getElementById(focused)?.focus();
}

/**
 * The QR code of the patient's link.
 * @param {HTMLElement} place
 * @param {Handover | null} given
 * @param {Speech} speech
 */
export function showQr(place, given, speech) {
  const [address, code] = given ? [given.link.slice(0, -given.code.length), given.code] : ["", ""];
  const modules = given ? drawQr(address, code) : null;
  place.replaceChildren(...(modules ? [makeQrPicture(modules, speech.say("clinician.qr"))] : []));
}

/**
 * Puts a text on the clipboard, also where the browser has no clipboard for this page.
 * @param {string} text
 * @returns {Promise<boolean>}
 */
export async function copyText(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    const area = /** @type {HTMLTextAreaElement} */ (make("textarea", { readonly: "", "aria-hidden": "true" }));
    area.value = text;
    document.body.append(area);
    area.select();
    const done = document.execCommand("copy");
    area.remove();
    return done;
  }
}

/**
 * Lets the browser save a text as a file.
 * @param {string} name
 * @param {string} text
 * @param {string} type
 */
export function saveFile(name, text, type) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = /** @type {HTMLAnchorElement} */ (make("a", { href: address, download: name }));
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
