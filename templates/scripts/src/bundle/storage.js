/**
 * What the page keeps in this browser: the draft as long as the tab is open, own bundles and the location for longer.
 * Own bundles are kept as codes, so nothing but exercises, doses, language and location can be in them.
 */

import { ownName, takeOverNames } from "../place.js";

const FORMER = "handouts.";
const OWN = ownName("");
const DRAFT = `${OWN}draft`;
const KEPT = `${OWN}bundles`;
const LOCATION = `${OWN}location`;
const MOST_KEPT = 50;

for (const name of ["bundles", "location"]) {
  try {
    takeOverNames(localStorage, FORMER + name, OWN + name);
  } catch {
    // A browser that keeps nothing has nothing to take over.
  }
}

/**
 * @param {() => Storage} area
 * @param {string} key
 * @returns {string}
 */
function readItem(area, key) {
  try {
    return area().getItem(key) ?? "";
  } catch {
    return "";
  }
}

/**
 * @param {() => Storage} area
 * @param {string} key
 * @param {string} text
 * @returns {boolean} whether it was kept
 */
function writeItem(area, key, text) {
  try {
    area().setItem(key, text);
    return true;
  } catch {
    return false;
  }
}

const thisTab = () => sessionStorage;
const thisBrowser = () => localStorage;

/** @returns {string} */
export function readDraftText() {
  return readItem(thisTab, DRAFT);
}

/**
 * @param {string} text
 * @returns {boolean}
 */
export function keepDraftText(text) {
  return writeItem(thisTab, DRAFT, text);
}

/** @returns {string[]} codes of the bundles kept, the newest first */
export function readKept() {
  return readItem(thisBrowser, KEPT).split("\n").filter(Boolean).slice(0, MOST_KEPT);
}

/**
 * @param {string} code
 * @returns {boolean}
 */
export function keepBundle(code) {
  const codes = [code, ...readKept().filter((other) => other !== code)];
  return writeItem(thisBrowser, KEPT, codes.slice(0, MOST_KEPT).join("\n"));
}

/** @returns {string} */
export function readLocation() {
  return readItem(thisBrowser, LOCATION);
}

/**
 * @param {string} slug
 * @returns {boolean}
 */
export function keepLocation(slug) {
  return writeItem(thisBrowser, LOCATION, slug);
}
