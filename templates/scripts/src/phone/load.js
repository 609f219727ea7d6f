/** Loads what only some need: the rest of the page's own script, words and figure of one exercise.  Works from a folder too. */

import { scriptAddress } from "./trust.js";

/** @type {Map<string, Promise<boolean>>} */
const loading = new Map();

/**
 * @param {string} address
 * @returns {Promise<boolean>} whether it is there
 */
export function loadScript(address) {
  const script = document.createElement("script");
  script.src = scriptAddress(address);
  return load(script, address);
}

/**
 * @param {HTMLElement} element
 * @param {string} address
 * @returns {Promise<boolean>}
 */
function load(element, address) {
  const known = loading.get(address);
  if (known) return known;
  /** @type {Promise<boolean>} */
  const promise = new Promise((resolve) => {
    element.addEventListener("load", () => resolve(true));
    element.addEventListener("error", () => {
      loading.delete(address);
      element.remove();
      resolve(false);
    });
    document.head.append(element);
  });
  loading.set(address, promise);
  return promise;
}

/**
 * @param {string} address
 * @returns {Promise<boolean>} whether the style sheet is there
 */
export function loadStyle(address) {
  const link = document.createElement("link");
  link.rel = "stylesheet";
  link.href = address;
  return load(link, address);
}

/**
 * A value that a script of the build handed over, or null.
 * @param {string} table
 * @param {string} code
 * @param {string} address
 * @returns {Promise<any>}
 */
export async function loadValue(table, code, address) {
  await loadScript(address);
  const all = /** @type {any} */ (globalThis)[table] ?? {};
  return Object.hasOwn(all, code) ? all[code] : null;
}
