/**
 * What is searched and filtered, as a text for the part of the address after `#`: it survives a reload,
 * works from a folder on disk, and no server ever sees it.
 */

/** Longest part of an address that is read. */
const LONGEST = 4000;

/**
 * @param {string} hash the address from `#` on
 * @param {readonly string[]} names the only names that are read
 * @returns {Map<string, string>}
 */
export function readState(hash, names) {
  /** @type {Map<string, string>} */
  const state = new Map();
  if (hash.length > LONGEST) return state;
  const given = new URLSearchParams(hash.replace(/^#/, ""));
  for (const name of names) {
    const value = given.get(name);
    if (value) state.set(name, value);
  }
  return state;
}

/**
 * @param {ReadonlyMap<string, string>} state
 * @returns {string} `#q=band&step=2-build`, or nothing where nothing is set
 */
export function writeState(state) {
  const given = new URLSearchParams();
  for (const [name, value] of state) if (value) given.set(name, value);
  const text = given.toString();
  return text ? `#${text}` : "";
}
