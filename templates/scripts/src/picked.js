/**
 * What is picked for a patient, as other pages of the site know it: codes of exercises, and those that wait to be added to the draft
 * of the clinician's page.  Picks belong to one tab, so that two tabs may be about two patients.  A tab without any follows the
 * only other tab of this browser that has some, if there is only one: what is added here goes there.  Nothing is stored for it.
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

/** Milliseconds in which other tabs answer. */
const LONGEST_ANSWER = 200;
const ME = Math.random().toString(36).slice(2);
/** @type {BroadcastChannel | null} */
const channel = "BroadcastChannel" in globalThis ? new BroadcastChannel(ownName("picks")) : null;
/** The picks of other tabs. @type {Map<string, string[]>} */
const others = new Map();

/** @returns {string[]} the codes of what is picked in this tab, with those that wait to be */
export function readPicked() {
  return [...new Set([...readCodes(PICKED), ...readCodes(WISHED)])];
}

/** The only other tab with picks, and these; nothing where this one has some. @returns {[string, string[]] | []} */
function followed() {
  return readPicked().length || others.size !== 1 ? [] : [...others][0];
}

/** @returns {string[]} what is picked in the only other tab that has picks, where this one has none */
export function readFollowed() {
  return followed()[1] ?? [];
}

/** Tells other tabs what is picked here. */
function tell(codes = readPicked()) {
  channel?.postMessage({ from: ME, picked: codes });
}

/** @param {string[]} codes  what the draft holds now */
export function keepPicked(codes) {
  writeCodes(PICKED, codes);
  tell();
}

/** @param {string} code  of an exercise that is to be added to the draft */
export function wishFor(code) {
  const [to] = followed();
  if (to) return channel?.postMessage({ to, wish: code });
  writeCodes(WISHED, [...new Set([...readCodes(WISHED), code])]);
  tell();
}

/**
 * Keeps up with the other tabs of this browser.
 * @param {() => void} changed  what is picked here or in the tab that is followed has changed
 */
export function keepUpWithTabs(changed) {
  let waiting = 0;
  channel?.addEventListener("message", ({ data }) => {
    if (data?.to === ME && /^[0-9A-Z]{4}$/.test(data.wish)) {
      wishFor(data.wish);
      changed();
    } else if (Array.isArray(data?.picked)) {
      if (data.picked.length) others.set(data.from, data.picked);
      else others.delete(data.from);
      clearTimeout(waiting);
      waiting = setTimeout(changed, LONGEST_ANSWER);
    } else if (data?.ask && readPicked().length) tell();
  });
  channel?.postMessage({ ask: true });
  if (readPicked().length) tell();
  addEventListener("pagehide", () => tell([]));
  addEventListener("pageshow", (event) => event.persisted && readPicked().length && tell());
}

/** @returns {string[]} the codes that wait to be added; they wait no more */
export function takeWishes() {
  const codes = readCodes(WISHED);
  writeCodes(WISHED, []);
  return codes;
}
