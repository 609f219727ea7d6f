/** The page of a test of function: compares the results of two visits.  What is typed stays in the fields. */

import { compareVisits } from "./compare.js";
import { part } from "./page.js";

/** @typedef {import("./compare.js").Results} Results */

const form = part("compare", HTMLFormElement);
const list = part("compared", HTMLUListElement);
const problem = document.getElementById("problem-side");
/** @type {import("./compare.js").FunctionTest} */
const test = JSON.parse(form.dataset.test ?? "");
const plurals = new Intl.PluralRules(document.documentElement.lang);
const figures = new Intl.NumberFormat(document.documentElement.lang, { maximumFractionDigits: 2, numberingSystem: "latn" });

/**
 * @param {string} visit
 * @returns {Results}
 */
function read(visit) {
  /** @type {Results} */
  const found = {};
  for (const side of Object.keys(test.sides)) {
    const field = part(`${visit}-${side}`, HTMLInputElement);
    const value = field.valueAsNumber;
    found[side] = Number.isFinite(value) && value >= 0 ? value : null;
  }
  return found;
}

function show() {
  const side = problem instanceof HTMLSelectElement ? problem.value : "";
  const write = (/** @type {number} */ value) => figures.format(value);
  const lines = compareVisits(test, read("before"), read("now"), side, write, (value) => plurals.select(value));
  list.replaceChildren(
    ...lines.map((line) => {
      const item = document.createElement("li");
      item.textContent = line;
      return item;
    }),
  );
}

form.reset(); // a browser that goes back fills fields again
form.hidden = false;
form.addEventListener("input", show);
form.addEventListener("submit", (event) => event.preventDefault());
