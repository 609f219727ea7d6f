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
/** How many found exercises are shown at once, and again when the last of them comes near. */
const AT_ONCE = 30;
/** @type {HTMLElement[]} */
let waiting = [];
const end = new IntersectionObserver((seen) => seen.some((one) => one.isIntersecting) && showMore(AT_ONCE), { rootMargin: "100%" });
const numbers = new Intl.NumberFormat(document.documentElement.lang);

/** @returns {Map<string, string>} what is asked for now */
function currentState() {
  return new Map([["q", field.value.trim()], ...selects.map((select) => /** @type {[string, string]} */ ([select.name, select.value]))]);
}

/**
 * A step that is asked for together with a programme is that programme's: others may have the same number.
 * @param {HTMLElement[]} some
 * @returns {HTMLElement[]} the rows that every filter lets through
 */
function passing(some) {
  const programme = selects.find(({ name }) => name === "programme")?.value;
  const asked = selects
    .filter((select) => select.value)
    .map(({ name, value }) => ({ name, value: name === "step" && programme ? `${programme}/${value}` : value }));
  return some.filter((row) => asked.every(({ name, value }) => (row.dataset[name] ?? "").split(" ").includes(value)));
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
  const count = ranked ? showRanked(passing(ranked.map((at) => rows[at]))) : showGroups();
  found.hidden = ranked === null;
  groups.hidden = ranked !== null;
  none.hidden = count > 0;
  const pattern = shown.dataset.pattern ?? "";
  shown.textContent = pattern.replace("{shown}", numbers.format(count)).replace("{all}", numbers.format(rows.length));
}

/**
 * Shows copies of these rows in their order: the first at once, so that no key waits for thousands of them.
 * @param {HTMLElement[]} wanted
 * @returns {number} how many there are
 */
function showRanked(wanted) {
  found.replaceChildren();
  waiting = wanted;
  showMore(AT_ONCE);
  return wanted.length;
}

/** @param {number} most how many more of the found exercises are shown */
function showMore(most) {
  end.disconnect();
  found.append(...waiting.slice(0, most).map((row) => row.cloneNode(true)));
  waiting = waiting.slice(most);
  if (waiting.length && found.lastElementChild) end.observe(found.lastElementChild);
}

/** @returns {number} how many exercises the filters let through; each group shows its own */
function showGroups() {
  showRanked([]);
  const through = new Set(passing(rows));
  for (const row of rows) if (row.hidden === through.has(row)) row.hidden = !row.hidden;
  for (const section of sections) section.hidden = !section.querySelector("li:not([hidden])");
  return through.size;
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
addEventListener("beforeprint", () => showMore(waiting.length));
addEventListener("hashchange", () => {
  // A link to a part of this page must not push what is searched out of the address.
  if (location.hash && !location.hash.includes("=")) return changed();
  readAddress();
  show();
});
