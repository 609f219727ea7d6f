/**
 * What is picked for a patient in this tab, as other pages of the site know it: codes of exercises, and those that wait to be added
 * to the draft of the clinician's page.
 */

import { ownName } from "./place.js";

const PICKED = ownName("picked");
const WISHED = ownName("wished");

/**
 * @param {string} name
 * @returns {string[]}
 */
function readCodes(name) {
  try {
    return (sessionStorage.getItem(name) ?? "").split(" ").filter((code) => /^[0-9A-Z]{4}$/.test(code));
  } catch {
    return [];
  }
}

/**
 * @param {string} name
 * @param {string[]} codes
 */
function writeCodes(name, codes) {
  try {
    if (codes.length) sessionStorage.setItem(name, codes.join(" "));
    else sessionStorage.removeItem(name);
  } catch {
    // a browser that keeps nothing has nothing to show elsewhere
  }
}

/** @returns {string[]} the codes of what is picked, with those that wait to be */
export function readPicked() {
  return [...new Set([...readCodes(PICKED), ...readCodes(WISHED)])];
}

/** @param {string[]} codes  what the draft holds now */
export function keepPicked(codes) {
  writeCodes(PICKED, codes);
}

/** @param {string} code  of an exercise that is to be added to the draft */
export function wishFor(code) {
  writeCodes(WISHED, [...new Set([...readCodes(WISHED), code])]);
}

/** @returns {string[]} the codes that wait to be added; they wait no more */
export function takeWishes() {
  const codes = readCodes(WISHED);
  writeCodes(WISHED, []);
  return codes;
}
