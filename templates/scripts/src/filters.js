/**
 * What the filters of the list let through, and how many exercises each of their entries would leave.
 * A step that is asked for together with a programme is that programme's: others may have the same number.
 * Knows nothing of the page.
 */

/** @typedef {Readonly<Record<string, ReadonlySet<string>>>} Values  of one row, by the name of the filter */
/** @typedef {ReadonlyMap<string, string>} Wanted  by the name of the filter; none where it lets everything through */

const TOGETHER = ["programme", "step"];

/**
 * @param {Values} row
 * @param {string} programme
 * @param {string} step
 * @returns {boolean}
 */
function isInStep(row, programme, step) {
  if (programme && !row.programme?.has(programme)) return false;
  return !step || Boolean(row.step?.has(programme ? `${programme}/${step}` : step));
}

/**
 * @param {Values} row
 * @param {Wanted} wanted
 * @returns {boolean} whether every filter lets a row through
 */
export function passes(row, wanted) {
  if (!isInStep(row, wanted.get("programme") ?? "", wanted.get("step") ?? "")) return false;
  for (const [name, value] of wanted) if (value && !TOGETHER.includes(name) && !row[name]?.has(value)) return false;
  return true;
}

/**
 * How many of some rows each value of each filter would leave, were it chosen and the other filters stay as they are.
 * @param {Iterable<Values>} rows
 * @param {Wanted} wanted  every filter of the page
 * @returns {Map<string, Map<string, number>>} by the name of the filter and the value; a value that would leave none is missing
 */
export function countEach(rows, wanted) {
  /** @type {Map<string, Map<string, number>>} */
  const counts = new Map(Array.from(wanted.keys(), (name) => [name, new Map()]));
  const add = (/** @type {string} */ name, /** @type {string} */ value) => {
    const own = counts.get(name);
    own?.set(value, (own.get(value) ?? 0) + 1);
  };
  const alone = Array.from(wanted).filter(([name]) => !TOGETHER.includes(name));
  const programme = wanted.get("programme") ?? "";
  const step = wanted.get("step") ?? "";
  for (const row of rows) {
    const failed = alone.filter(([name, value]) => value && !row[name]?.has(value));
    if (failed.length > 1) continue;
    if (isInStep(row, programme, step)) {
      for (const [name] of failed.length ? failed : alone) for (const value of row[name] ?? []) add(name, value);
    }
    if (failed.length) continue;
    for (const value of row.programme ?? []) if (isInStep(row, value, step)) add("programme", value);
    for (const value of row.step ?? []) if (!value.includes("/") && isInStep(row, programme, value)) add("step", value);
  }
  return counts;
}
