/**
 * Bundle codes: a bundle to its code and back, pure and total.  The specification is
 * handouts/bundle/CODE.md; handouts/bundle/code.py is the twin.  Reading never throws, never moves a
 * value into its bounds and never gives a part of a bundle.
 */

/**
 * @typedef {{sets: number, reps?: number, hold?: number, time?: number, distance?: number, side: string,
 *   tempo?: number[], rest: number, days?: number, times: number, effort?: number[], weight?: number, band?: string, pace?: number}} Dose
 * Seconds, metres, kilograms and metres a second; names as in an exercise's file.
 * @typedef {Record<string, number | string>} Change  Fields of a dose that differ from the library's; a tempo as one number.
 * @typedef {Record<string, number[]>} DoseRange  Lowest and highest value by field; of the tempo all that are offered.
 * @typedef {{slug: string, mark: string, dose: Dose, range: DoseRange, former: Record<string, Dose>}} Entry
 * @typedef {{languages: Record<string, string>, locations: Record<string, string>, bands: Record<string, string>,
 *   exercises: Record<string, Entry>, withdrawn: Record<string, {title: string, by: string | null}>}} Catalogue
 * Names by mark, exercises by code.
 * @typedef {{code: string, change: Change}} Pick
 * @typedef {{language: string, location: string, weeks: number, picks: Pick[]}} Bundle
 * @typedef {{kind: string, exercise?: string, field?: string, value?: number | string, low?: number, high?: number,
 *   replacedBy?: string}} Refusal
 * @typedef {{bundle: Bundle, doses: Dose[], former: string[]}} Opened
 * @typedef {{name: string, digits: number}} Field
 */

const DIGITS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ";
const CODE_VERSION = 1;
const TEMPO_VERSION = 2;
const TEMPO_SIZES = [16, 16, 16, 8];
const MOST_CHARACTERS = 4000;
export const MOST_PICKS = 12;
export const MOST_WEEKS = 6;
const CHECK_DIGITS = 7;
const NAME_DIGITS = 3;
const CODE_DIGITS = 4;
const CHANGED_DIGITS = 2;
const PICK_DIGITS = CODE_DIGITS + 2 + CHANGED_DIGITS;
const HEAD_DIGITS = 1 + 2 * NAME_DIGITS + 1;
export const SIDES = ["both", "one", "alternating"];
const COUNTED = ["reps", "hold", "time", "distance"];

/** @type {Field[]} The fields that a clinician may move, in the order of their bits. */
export const FIELDS = [
  { name: "sets", digits: 1 },
  { name: "reps", digits: 2 },
  { name: "hold", digits: 2 },
  { name: "time", digits: 3 },
  { name: "distance", digits: 3 },
  { name: "tempo", digits: 3 },
  { name: "side", digits: 1 },
  { name: "rest", digits: 2 },
  { name: "days", digits: 1 },
  { name: "weight", digits: 3 },
  { name: "band", digits: 3 },
];

/** @type {Field[][][]} By version, from 1, the fields by their bits; where a bit has two, the dose counts one of them. */
const LAYOUTS = [
  FIELDS.filter(({ name }) => name !== "tempo").map((field) => [field]),
  FIELDS.filter(({ name }) => name !== "distance").map((field) => (field.name === "time" ? [field, FIELDS[4]] : [field])),
];

/**
 * CRC-32 (ISO-HDLC) of ASCII text.
 * @param {string} text
 * @returns {number}
 */
export function crc32(text) {
  let crc = 0xffffffff;
  for (let index = 0; index < text.length; index += 1) {
    crc ^= text.charCodeAt(index);
    for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return ~crc >>> 0;
}

/**
 * @param {number} value
 * @param {number} count
 * @returns {string}
 */
function writeNumber(value, count) {
  let text = "";
  let rest = value;
  for (let index = 0; index < count; index += 1) {
    text = DIGITS[rest % 32] + text;
    rest = Math.floor(rest / 32);
  }
  return text;
}

/**
 * @param {string} digits
 * @returns {number}
 */
function readNumber(digits) {
  let value = 0;
  for (const digit of digits) value = value * 32 + DIGITS.indexOf(digit);
  return value;
}

/**
 * A value of a table that comes from outside, never one of the object's own machinery.
 * @template T
 * @param {Record<string, T>} table
 * @param {string} key
 * @returns {T | undefined}
 */
export function lookUp(table, key) {
  return Object.hasOwn(table, key) ? table[key] : undefined;
}

/**
 * A tempo as the number that stands for it in a code; -1 for one that no range can offer.
 * @param {number[]} tempo
 * @returns {number}
 */
function packTempo(tempo) {
  if (tempo.some((part, at) => part >= TEMPO_SIZES[at])) return -1;
  return tempo.reduce((value, part, at) => value * TEMPO_SIZES[at] + part, 0);
}

/**
 * @param {number} value
 * @returns {number[]}
 */
export function unpackTempo(value) {
  return [value >> 11, (value >> 7) & 15, (value >> 3) & 15, value & 7];
}

/**
 * @param {number[]} tempo
 * @returns {string} as an author types it
 */
function tempoText(tempo) {
  return tempo.slice(0, tempo[3] ? 4 : 3).join("-");
}

/**
 * @param {Record<string, string>} names
 * @param {string} name
 * @returns {string | undefined}
 */
function markOf(names, name) {
  return Object.keys(names).find((mark) => names[mark] === name);
}

/**
 * @param {number} weeks
 * @param {number} picks
 * @returns {Refusal | null}
 */
function refuseCounts(weeks, picks) {
  if (!(weeks >= 1 && weeks <= MOST_WEEKS)) {
    return { kind: "out-of-bounds", field: "weeks", value: weeks, low: 1, high: MOST_WEEKS };
  }
  if (!(picks >= 1 && picks <= MOST_PICKS)) {
    return { kind: "out-of-bounds", field: "picks", value: picks, low: 1, high: MOST_PICKS };
  }
  return null;
}

/**
 * The sides that a clinician may choose; none where the movement has no sides.
 * @param {Dose} dose
 * @returns {string[]}
 */
export function sidesAllowed(dose) {
  if (dose.side === "together") return [];
  return dose.side === "alternating" ? SIDES : SIDES.slice(0, 2);
}

/**
 * Lowest and highest value of a number of the dose; null where it may not be moved.
 * @param {string} name
 * @param {Dose} dose
 * @param {DoseRange} range
 * @returns {number[] | null}
 */
export function boundsOf(name, dose, range) {
  const span = lookUp(range, name);
  if (!span || (COUNTED.includes(name) && valueOf(dose, name) === undefined)) return null;
  return span;
}

/**
 * A field of a dose; its tempo as one number.
 * @param {Dose} dose
 * @param {string} name
 * @returns {number | string | undefined}
 */
export function valueOf(dose, name) {
  if (name === "tempo") return dose.tempo && packTempo(dose.tempo);
  return /** @type {Record<string, number | string | undefined>} */ (/** @type {unknown} */ (dose))[name];
}

/**
 * Why one moved field is refused, or null.
 * @param {string} code
 * @param {string} name
 * @param {number | string} value
 * @param {Dose} dose
 * @param {DoseRange} range
 * @param {Catalogue} catalogue
 * @returns {Refusal | null}
 */
export function refuseField(code, name, value, dose, range, catalogue) {
  const outside = { kind: "out-of-bounds", exercise: code, field: name, value };
  if (name === "side") return sidesAllowed(dose).includes(String(value)) ? null : outside;
  if (name === "tempo") {
    const fits = dose.tempo && lookUp(range, name)?.includes(Number(value));
    return fits ? null : { ...outside, value: tempoText(unpackTempo(Number(value))) };
  }
  if (name === "band") {
    if (!Object.values(catalogue.bands).includes(String(value))) return { ...outside, kind: "unknown" };
    return dose.band === undefined ? outside : null;
  }
  const span = boundsOf(name, dose, range);
  if (!span) return outside;
  const fits = typeof value === "number" && value >= span[0] && value <= span[1] && isWritable(name, value);
  return fits ? null : { ...outside, low: span[0], high: span[1] };
}

/**
 * @param {string} name
 * @param {number} value
 * @returns {boolean}
 */
function isWritable(name, value) {
  return name === "weight" ? Math.round(value * 100) / 100 === value : Number.isInteger(value);
}

/**
 * Why a whole dose is refused: its first number outside the range, a tempo that is not offered, or null.
 * @param {string} code
 * @param {Dose} dose
 * @param {DoseRange} range
 * @returns {Refusal | null}
 */
function refuseDose(code, dose, range) {
  for (const field of ["sets", "reps", "hold", "time", "distance", "days", "rest", "weight"]) {
    const value = valueOf(dose, field);
    const span = lookUp(range, field);
    if (typeof value === "number" && span && !(value >= span[0] && value <= span[1])) {
      return { kind: "out-of-bounds", exercise: code, field, value, low: span[0], high: span[1] };
    }
  }
  const offered = lookUp(range, "tempo");
  if (!dose.tempo || !offered || offered.includes(packTempo(dose.tempo))) return null;
  return { kind: "out-of-bounds", exercise: code, field: "tempo", value: tempoText(dose.tempo) };
}

/**
 * The library's dose with the fields that a clinician moved.
 * @param {Dose} dose
 * @param {Change} change
 * @returns {Dose}
 */
export function changeDose(dose, change) {
  const { tempo, ...rest } = change;
  const changed = { ...dose, ...rest };
  return tempo === undefined ? changed : { ...changed, tempo: unpackTempo(Number(tempo)) };
}

/**
 * A change without the fields that equal the dose.
 * @param {Change} change
 * @param {Dose} dose
 * @returns {Change}
 */
export function dropUnchanged(change, dose) {
  return Object.fromEntries(Object.entries(change).filter(([name, value]) => valueOf(dose, name) !== value));
}

/**
 * The code of a bundle on the library's present doses, or why it is refused.
 * @param {Bundle} bundle
 * @param {Catalogue} catalogue
 * @returns {string | Refusal}
 */
export function encodeBundle(bundle, catalogue) {
  const language = markOf(catalogue.languages, bundle.language);
  if (language === undefined) return { kind: "unknown", field: "language", value: bundle.language };
  const location = markOf(catalogue.locations, bundle.location);
  if (location === undefined) return { kind: "unknown", field: "location", value: bundle.location };
  const refusal = refuseCounts(bundle.weeks, bundle.picks.length);
  if (refusal) return refusal;
  const version = bundle.picks.some((pick) => movesTempo(pick, catalogue)) ? TEMPO_VERSION : CODE_VERSION;
  let text = writeNumber(version, 1) + language + location + writeNumber(bundle.weeks, 1);
  const seen = new Set();
  for (const pick of bundle.picks) {
    const entry = lookUp(catalogue.exercises, pick.code);
    if (!entry) return { kind: "unknown", field: "exercise", value: pick.code };
    if (seen.has(pick.code)) return { kind: "repeated", exercise: pick.code };
    seen.add(pick.code);
    const written = encodePick(pick, entry, catalogue, version);
    if (typeof written !== "string") return written;
    text += written;
  }
  return text + writeNumber(crc32(text), CHECK_DIGITS);
}

/**
 * @param {Pick} pick
 * @param {Catalogue} catalogue
 * @returns {boolean}
 */
function movesTempo(pick, catalogue) {
  const entry = lookUp(catalogue.exercises, pick.code);
  return entry !== undefined && Object.hasOwn(dropUnchanged(pick.change, entry.dose), "tempo");
}

/**
 * @param {Pick} pick
 * @param {Entry} entry
 * @param {Catalogue} catalogue
 * @param {number} version
 * @returns {string | Refusal}
 */
function encodePick(pick, entry, catalogue, version) {
  const change = dropUnchanged(pick.change, entry.dose);
  let bits = 0;
  let values = "";
  for (const field of FIELDS) {
    const value = lookUp(change, field.name);
    if (value === undefined) continue;
    const refusal = refuseField(pick.code, field.name, value, entry.dose, entry.range, catalogue);
    if (refusal) return refusal;
    bits += 2 ** LAYOUTS[version - 1].findIndex((fields) => fields.includes(field));
    values += writeValue(field, value, catalogue);
  }
  const refusal = refuseDose(pick.code, changeDose(entry.dose, change), entry.range);
  if (refusal) return refusal;
  return pick.code + entry.mark + writeNumber(bits, CHANGED_DIGITS) + values;
}

/**
 * @param {Field} field
 * @param {number | string} value
 * @param {Catalogue} catalogue
 * @returns {string}
 */
function writeValue(field, value, catalogue) {
  if (field.name === "side") return writeNumber(SIDES.indexOf(String(value)), field.digits);
  if (field.name === "band") return markOf(catalogue.bands, String(value)) ?? "";
  return writeNumber(field.name === "weight" ? Math.round(Number(value) * 100) : Number(value), field.digits);
}

/**
 * The bundle of a code or of a link that ends in one, or why it is refused.
 * @param {string} text
 * @param {Catalogue} catalogue
 * @returns {Opened | Refusal}
 */
export function decodeBundle(text, catalogue) {
  const digits = cleanCode(text);
  if (digits === null) return { kind: "damaged" };
  const body = digits.slice(0, -CHECK_DIGITS);
  if (readNumber(digits.slice(-CHECK_DIGITS)) !== crc32(body)) return { kind: "damaged" };
  const version = readNumber(body[0]);
  const layout = LAYOUTS[version - 1];
  if (!layout) return { kind: version > TEMPO_VERSION ? "newer" : "older", field: "version", value: version };
  const raw = body.length >= HEAD_DIGITS ? splitPicks(body.slice(HEAD_DIGITS), layout) : null;
  // No writer writes the later version where nothing needs it.
  const idle = version === TEMPO_VERSION && !raw?.some(({ values }) => values.some(([[field]]) => field.name === "tempo"));
  return raw === null || idle ? { kind: "damaged" } : openBundle(body.slice(0, HEAD_DIGITS), raw, catalogue);
}

/**
 * Whether the reader of codes refused.
 * @param {Opened | Refusal} result
 * @returns {result is Refusal}
 */
export function isRefusal(result) {
  return "kind" in result;
}

/**
 * @param {string} text
 * @returns {string | null}
 */
function cleanCode(text) {
  if (text.length > MOST_CHARACTERS) return null;
  const digits = text
    .slice(text.indexOf("#") + 1)
    .replace(/[ \t\n\r]/g, "")
    .replace(/[a-z]/g, (letter) => letter.toUpperCase());
  return digits.length > CHECK_DIGITS && /^[2-9A-HJ-NP-Z]+$/.test(digits) ? digits : null;
}

/** @typedef {{code: string, mark: string, values: [Field[], string][]}} RawPick  Nothing of it is known to be true yet. */

/**
 * The picks of a code; null where the layout does not come out even.
 * @param {string} text
 * @param {Field[][]} layout
 * @returns {RawPick[] | null}
 */
function splitPicks(text, layout) {
  /** @type {RawPick[]} */
  const picks = [];
  let at = 0;
  while (at < text.length) {
    const head = text.slice(at, at + PICK_DIGITS);
    if (head.length < PICK_DIGITS) return null;
    at += PICK_DIGITS;
    const bits = readNumber(head.slice(-CHANGED_DIGITS));
    /** @type {[Field[], string][]} */
    const values = [];
    for (const [number, fields] of layout.entries()) {
      if (((bits >> number) & 1) === 0) continue;
      const { digits } = fields[0];
      if (text.length - at < digits) return null;
      values.push([fields, text.slice(at, at + digits)]);
      at += digits;
    }
    picks.push({ code: head.slice(0, CODE_DIGITS), mark: head.slice(CODE_DIGITS, -CHANGED_DIGITS), values });
  }
  return picks;
}

/**
 * The bundle of a code whose layout is whole.
 * @param {string} head
 * @param {RawPick[]} raw
 * @param {Catalogue} catalogue
 * @returns {Opened | Refusal}
 */
function openBundle(head, raw, catalogue) {
  const languageMark = head.slice(1, 1 + NAME_DIGITS);
  const locationMark = head.slice(1 + NAME_DIGITS, -1);
  const language = lookUp(catalogue.languages, languageMark);
  if (language === undefined) return { kind: "unknown", field: "language", value: languageMark };
  const location = lookUp(catalogue.locations, locationMark);
  if (location === undefined) return { kind: "unknown", field: "location", value: locationMark };
  const weeks = readNumber(head.slice(-1));
  const refusal = refuseCounts(weeks, raw.length);
  if (refusal) return refusal;
  const codes = raw.map((pick) => pick.code);
  const repeated = codes.find((code, index) => codes.indexOf(code) < index);
  if (repeated !== undefined) return { kind: "repeated", exercise: repeated };
  /** @type {Opened} */
  const opened = { bundle: { language, location, weeks, picks: [] }, doses: [], former: [] };
  for (const item of raw) {
    const refused = openPick(item, catalogue, opened);
    if (refused) return refused;
  }
  return opened;
}

/**
 * Adds a pick to what was opened, or says why it is refused.
 * @param {RawPick} raw
 * @param {Catalogue} catalogue
 * @param {Opened} opened
 * @returns {Refusal | null}
 */
function openPick(raw, catalogue, opened) {
  const { code } = raw;
  const gone = lookUp(catalogue.withdrawn, code);
  if (gone) {
    const found = { kind: "withdrawn", exercise: code, value: gone.title };
    return gone.by === null ? found : { ...found, replacedBy: gone.by };
  }
  const entry = lookUp(catalogue.exercises, code);
  if (!entry) return { kind: "unknown", exercise: code, field: "exercise", value: code };
  const base = raw.mark === entry.mark ? entry.dose : lookUp(entry.former, raw.mark);
  if (!base) return { kind: "older", exercise: code, field: "dose" };
  /** @type {Change} */
  const change = {};
  for (const [fields, digits] of raw.values) {
    const field = fields.find(({ name }) => valueOf(base, name) !== undefined) ?? fields[0];
    const value = readValue(field, digits, catalogue);
    if (value === undefined) return { kind: "unknown", exercise: code, field: field.name, value: digits };
    const refusal = refuseField(code, field.name, value, base, entry.range, catalogue);
    if (refusal) return refusal;
    if (valueOf(base, field.name) === value) return { kind: "damaged" };
    change[field.name] = value;
  }
  const dose = changeDose(base, change);
  const refusal = refuseDose(code, dose, entry.range);
  if (refusal) return refusal;
  opened.bundle.picks.push({ code, change });
  opened.doses.push(dose);
  if (raw.mark !== entry.mark) opened.former.push(code);
  return null;
}

/**
 * The value that a field's digits stand for; a side that does not exist stays a number, and is out of bounds.
 * @param {Field} field
 * @param {string} digits
 * @param {Catalogue} catalogue
 * @returns {number | string | undefined}
 */
function readValue(field, digits, catalogue) {
  const number = readNumber(digits);
  if (field.name === "side") return SIDES[number] ?? number;
  if (field.name === "band") return lookUp(catalogue.bands, digits);
  return field.name === "weight" ? number / 100 : number;
}
