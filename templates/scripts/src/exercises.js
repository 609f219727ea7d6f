/**
 * The page of all exercises: searches and filters its list as one types, keeps both in the address,
 * and moves through the results by arrow keys. Without this script the page is a plain grouped list.
 */

import { readState, writeState } from "./address.js";
import { isReady, makeReady, search } from "./found.js";
import { part } from "./page.js";

const form = part("find", HTMLFormElement);
const field = part("q", HTMLInputElement);
const groups = part("groups", HTMLElement);
const found = part("found", HTMLUListElement);
const shown = part("shown", HTMLElement);
const none = part("none", HTMLElement);
const unread = part("unread", HTMLElement);
const selects = Array.from(form.querySelectorAll("select"));
const names = ["q", ...selects.map((select) => select.name)];
const sections = Array.from(groups.querySelectorAll("section"));
/** @type {HTMLElement[]} */
const rows = Array.from(groups.querySelectorAll("section li"));
const homes = rows.map((row) => /** @type {HTMLElement} */ (row.parentElement));
const numbers = new Intl.NumberFormat(document.documentElement.lang);

/** @returns {Map<string, string>} what is asked for now */
function currentState() {
  return new Map([["q", field.value.trim()], ...selects.map((select) => /** @type {[string, string]} */ ([select.name, select.value]))]);
}

/**
 * @param {HTMLElement} row
 * @returns {boolean} whether every filter lets the row through
 */
function passes(row) {
  return selects.every((select) => !select.value || (row.dataset[select.name] ?? "").split(" ").includes(select.value));
}

/** Shows what is asked for as soon as it can be searched for; all exercises where it cannot. */
async function show() {
  const query = field.value;
  if (isReady(query)) return showFound(search(query));
  const isThere = await makeReady(query);
  if (field.value !== query) return;
  showFound(isThere ? search(query) : null);
  unread.hidden = isThere;
}

/**
 * Shows the best first where there are words, else the groups.
 * @param {number[] | null} ranked
 */
function showFound(ranked) {
  unread.hidden = true;
  const wanted = new Set(ranked ?? rows.keys());
  let count = 0;
  rows.forEach((row, at) => {
    row.hidden = !wanted.has(at) || !passes(row);
    if (!row.hidden) count += 1;
  });
  if (ranked) found.append(...ranked.map((at) => rows[at]));
  else rows.forEach((row, at) => homes[at].append(row));
  found.hidden = ranked === null;
  groups.hidden = ranked !== null;
  for (const section of sections) section.hidden = !section.querySelector("li:not([hidden])");
  none.hidden = count > 0;
  const pattern = shown.dataset.pattern ?? "";
  shown.textContent = pattern.replace("{shown}", numbers.format(count)).replace("{all}", numbers.format(rows.length));
}

/** Takes the address over into the fields. */
function readAddress() {
  const state = readState(location.hash, names);
  field.value = state.get("q") ?? "";
  for (const select of selects) {
    const wanted = state.get(select.name) ?? "";
    select.value = Array.from(select.options).some((option) => option.value === wanted) ? wanted : "";
  }
}

/** Writes the fields into the address and shows what they ask for. */
function changed() {
  history.replaceState(null, "", location.pathname + location.search + writeState(currentState()));
  show();
}

/** @returns {HTMLAnchorElement[]} the links of the rows in view, in order */
function links() {
  const area = groups.hidden ? found : groups;
  return Array.from(area.querySelectorAll("li:not([hidden]) .row-title"));
}

/** @param {KeyboardEvent} event */
function moveByArrow(event) {
  const step = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
  const focused = document.activeElement;
  if (!step || event.altKey || event.ctrlKey || event.metaKey || !focused) return;
  const all = links();
  const at = focused === field ? -1 : all.findIndex((link) => link === focused);
  if (focused !== field && at < 0) return;
  const next = at + step;
  if (next < -1 || next >= all.length) return;
  event.preventDefault();
  (next < 0 ? field : all[next]).focus();
}

form.hidden = false;
readAddress();
show();
part("filters", HTMLDetailsElement).open =
  matchMedia("(min-width: 50em)").matches || selects.some((select) => select.value);
form.addEventListener("input", changed);
form.addEventListener("reset", () => {
  setTimeout(changed);
  field.focus();
});
form.addEventListener("submit", async (event) => {
  event.preventDefault();
  const query = field.value;
  if (!isReady(query)) await show();
  if (isReady(query) && field.value === query) links()[0]?.click();
});
document.addEventListener("keydown", moveByArrow);
addEventListener("hashchange", () => {
  // A link to a part of this page must not push what is searched out of the address.
  if (location.hash && !location.hash.includes("=")) return changed();
  readAddress();
  show();
});
