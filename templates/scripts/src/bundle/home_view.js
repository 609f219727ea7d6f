/** The panel of what is missing at home, and what can be done about it; what is ticked is told to `main.js`. */

import { part } from "../page.js";
import { make, makeButton } from "./dom.js";
import { findFixes } from "./home.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./speech.js").Speech} Speech */

/** What is ticked where the patient cannot get to the floor; no thing is called so. */
export const FLOOR = "-floor";

/**
 * Fills the list to tick, once: what exercises need, and the floor where one is done on it.
 * @param {Book} book
 * @param {Speech} speech
 * @param {(name: string, isTicked: boolean) => void} tick
 */
export function offerHome(book, speech, tick) {
  const entries = Object.values(book.exercises);
  const used = Object.entries(book.terms.equipment).filter(([slug]) => entries.some(({ equipment }) => equipment.includes(slug)));
  const floor = entries.some(({ position }) => book.floor.includes(position)) ? [[FLOOR, speech.say("clinician.home_floor")]] : [];
  const rows = [...floor, ...used.map(([slug, name]) => [slug, speech.say("clinician.home_no", { thing: name })])].map(([slug, words]) => {
    const box = /** @type {HTMLInputElement} */ (make("input", { type: "checkbox", id: `home${slug === FLOOR ? "" : "-"}${slug}`, autocomplete: "off" }));
    box.addEventListener("change", () => tick(slug, box.checked));
    return make("li", {}, [make("label", {}, [box, make("span", {}, [words])])]);
  });
  part("home", HTMLElement).hidden = rows.length === 0;
  part("home-list", HTMLUListElement).replaceChildren(...rows);
}

/** Takes every tick away. */
export function clearHome() {
  for (const box of part("home-list", HTMLUListElement).querySelectorAll("input")) box.checked = false;
}

/**
 * Shows what can be done about each pick that needs something that is missing.
 * @param {import("./draft.js").Draft} draft
 * @param {import("./home.js").Missing} missing
 * @param {Book} book
 * @param {Speech} speech
 * @param {{swap: (code: string, target: string) => void, swapAll: () => void, instead: (code: string, marks: string[]) => void}} acts
 * @returns {number} of how many picks something is missing
 */
export function showHome(draft, missing, book, speech, acts) {
  const title = (/** @type {string} */ code) => book.exercises[code].title;
  const name = (/** @type {string} */ slug) => book.terms.equipment[slug];
  const fixes = findFixes(draft, missing, book);
  const items = fixes.map(({ code, things, floor, instead, target }) => {
    const needs = [...(things.length ? [speech.say("clinician.home_needs", { exercise: title(code), things: speech.join(things.map(name)) })] : []), ...(floor ? [speech.say("clinician.home_on_floor", { exercise: title(code) })] : [])];
    const serves = instead.map(({ line }) => make("p", {}, [line]));
    const act = speech.say("clinician.home_use");
    const use = instead.length ? [makeButton(act, () => acts.instead(code, instead.map(({ mark }) => mark)), { class: "quiet", id: `home-use-${code}`, "aria-label": speech.say("clinician.acts_on", { act, exercise: title(code) }) })] : [];
    const swap = target ? [makeButton(speech.say("clinician.swap", { exercise: title(target) }), () => acts.swap(code, target), { class: "quiet", id: `home-swap-${code}` })] : [];
    const none = !instead.length && !target ? [make("p", {}, [speech.say("clinician.home_none")])] : [];
    return make("li", {}, [make("a", { href: `#pick-${code}` }, [needs.join(" ")]), ...serves, ...use, ...swap, ...none]);
  });
  const many = fixes.filter(({ target }) => target).length;
  const all = many > 1 ? [make("li", {}, [makeButton(speech.count("clinician.home_swap_all", many), acts.swapAll, { id: "home-swap-all" })])] : [];
  const isAsked = missing.floor || missing.things.length > 0;
  const empty = isAsked && !items.length ? [make("li", { class: "note" }, [speech.say("clinician.home_nothing")])] : [];
  part("home-found", HTMLUListElement).replaceChildren(...items, ...all, ...empty);
  part("home-part", HTMLElement).hidden = !isAsked;
  return fixes.length;
}
