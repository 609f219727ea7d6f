/** The panel of what the patient has, and what the library's rules say of it; what is ticked is told to `main.js`. */

import { part } from "../page.js";
import { findTouched } from "./conditions.js";
import { make } from "./dom.js";
import { fillPieces } from "./sentence.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./speech.js").Speech} Speech */

/**
 * Fills the list to tick, once: boxes keep the focus while results change.
 * @param {Book} book
 * @param {(slug: string, isTicked: boolean) => void} tick
 */
export function offerConditions(book, tick) {
  part("conditions", HTMLElement).hidden = book.conditions.length === 0;
  const rows = book.conditions.map(({ slug, name }) => {
    const box = /** @type {HTMLInputElement} */ (make("input", { type: "checkbox", id: `condition-${slug}`, autocomplete: "off" }));
    box.addEventListener("change", () => tick(slug, box.checked));
    return make("li", {}, [make("label", {}, [box, make("span", {}, [name])])]);
  });
  part("condition-list", HTMLUListElement).replaceChildren(...rows);
}

/** Takes every tick away. */
export function clearConditions() {
  for (const box of part("condition-list", HTMLUListElement).querySelectorAll("input")) box.checked = false;
}

/**
 * Shows what the rules of the conditions ticked say of the picks, and how many other exercises of the library they touch.
 * @param {string[]} ticked
 * @param {string[]} codes
 * @param {Book} book
 * @param {Speech} speech
 * @returns {number} how many rules touch one of the picks
 */
export function showTouched(ticked, codes, book, speech) {
  const title = (/** @type {string} */ code) => book.exercises[code].title;
  const sourced = (/** @type {string} */ source) => make("p", { class: "note" }, fillPieces(speech.pieces("clinician.limit_source"), { source: [make("bdi", { lang: book.sourced }, [source])] }));
  const results = findTouched(ticked, codes, book);
  const items = results.map(({ condition, rules, others }) => {
    const head = [make("b", {}, [condition.name]), make("p", {}, [speech.say("clinician.condition_asks", { question: condition.asks })])];
    const found = rules.map(({ says, source, touches }) => {
      const named = touches.map(({ code, by }) => make("li", {}, [make("a", { href: `#pick-${code}` }, [title(code)]), make("span", { class: "note" }, [` ${by.join(" · ")}`])]));
      return make("li", {}, [make("p", { class: "rule" }, [says]), make("ul", {}, named), sourced(source)]);
    });
    const none = rules.length ? [] : [make("p", { class: "note" }, [speech.say(codes.length ? "clinician.condition_none" : "clinician.condition_no_picks")]), sourced(condition.source)];
    const names = others.map(title).sort((one, other) => one.localeCompare(other, book.language));
    const more = others.length ? [make("details", { class: "more" }, [make("summary", {}, [speech.count("clinician.condition_more", others.length)]), make("p", { class: "note" }, [speech.join(names)])])] : [];
    return make("li", {}, [...head, make("ul", { class: "rules" }, found), ...none, ...more]);
  });
  part("touched", HTMLUListElement).replaceChildren(...items);
  part("touched-part", HTMLElement).hidden = items.length === 0;
  return results.reduce((sum, { rules }) => sum + rules.length, 0);
}
