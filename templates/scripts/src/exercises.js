/**
 * The page of all exercises: searches and filters its list as one types, keeps both in the address,
 * and moves through the results by arrow keys. Without this script the page is a plain grouped list.
 */

import { readState, writeState } from "./address.js";
import { countEach, passes } from "./filters.js";
import { splitWords } from "./fold.js";
import { isReady, makeReady, search } from "./found.js";
import { part } from "./page.js";

const form = part("find", HTMLFormElement);
const field = part("q", HTMLInputElement);
const groups = part("groups", HTMLElement);
const results = part("results", HTMLElement);
const found = part("found", HTMLUListElement);
const closeHeading = part("close-heading", HTMLElement);
const several = part("several", HTMLElement);
const shown = part("shown", HTMLElement);
const wordNote = part("word-note", HTMLElement);
const none = part("none", HTMLElement);
const offers = part("offers", HTMLElement);
const sign = part("sign", HTMLElement);
const unread = part("unread", HTMLElement);
const selects = Array.from(form.querySelectorAll("select"));
const names = ["q", ...selects.map((select) => select.name)];
const sections = Array.from(groups.querySelectorAll("section"));
/** @type {HTMLElement[]} */
const rows = Array.from(groups.querySelectorAll("section li"));
/** @type {HTMLElement[]} programmes, ready-made bundles, tests, advice, lessons: a search counts them behind the exercises */
const entries = Array.from(several.querySelectorAll("li"));
/** @type {Map<HTMLElement, import("./filters.js").Values>} */
const known = new Map();
/** What the entries of the filters are called, without their counts. */
const called = new Map(selects.flatMap((select) => Array.from(select.options, (option) => [option, option.text])));
/** How many found exercises are shown at once, and again when the last of them comes near. */
const AT_ONCE = 30;
/** How many of them are shown. */
const MOST_SEVERAL = 3;
/** Of longer queries no word is offered to be left out. */
const MOST_OFFERED = 6;
/** @type {HTMLElement[]} */
let waiting = [];
/** @type {number | undefined} */
let counting;
const end = new IntersectionObserver((seen) => seen.some((one) => one.isIntersecting) && showMore(AT_ONCE), { rootMargin: "100%" });
const numbers = new Intl.NumberFormat(document.documentElement.lang);

/** @returns {Map<string, string>} what each filter asks for now */
function wantedNow() {
  return new Map(selects.map((select) => [select.name, select.value]));
}

/** @returns {Map<string, string>} what is asked for now */
function currentState() {
  return new Map([["q", field.value.trim()], ...wantedNow()]);
}

/**
 * @param {HTMLElement} row
 * @returns {import("./filters.js").Values} what the filters look at
 */
function valuesOf(row) {
  let values = known.get(row);
  if (!values) {
    values = Object.fromEntries(selects.map(({ name }) => [name, new Set((row.dataset[name] ?? "").split(" ").filter(Boolean))]));
    known.set(row, values);
  }
  return values;
}

/**
 * @param {HTMLElement[]} some
 * @param {import("./filters.js").Wanted} wanted
 * @returns {HTMLElement[]} the rows that every filter lets through
 */
function passing(some, wanted) {
  return Array.from(wanted.values()).some(Boolean) ? some.filter((row) => passes(valuesOf(row), wanted)) : some;
}

/**
 * @param {number[]} places
 * @returns {HTMLElement[]} the exercises among what was found
 */
function exercisesAt(places) {
  return places.filter((at) => at < rows.length).map((at) => rows[at]);
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
 * @param {import("./search.js").Found | null} all
 */
function showFound(all) {
  unread.hidden = true;
  const wanted = wantedNow();
  const fitting = exercisesAt(all?.fitting ?? []);
  const base = !all ? rows : fitting.length ? fitting : exercisesAt(all.close);
  const count = all ? showRanked(passing(base, wanted)) : showGroups(wanted);
  const isClose = all !== null && !fitting.length && count > 0;
  const others = showSeveral(all && !Array.from(wanted.values()).some(Boolean) ? all.fitting : []);
  results.hidden = all === null;
  groups.hidden = all !== null;
  closeHeading.hidden = !isClose;
  if (isClose) results.setAttribute("aria-labelledby", closeHeading.id);
  else results.removeAttribute("aria-labelledby");
  none.hidden = count > 0 || others > 0;
  const pattern = (isClose ? shown.dataset.close : shown.dataset.pattern) ?? "";
  shown.textContent = pattern.replace("{shown}", numbers.format(count)).replace("{all}", numbers.format(rows.length));
  sign.hidden = !all?.isSign;
  sayWords(all);
  showOffers(count && !isClose ? [] : offersFor(base, wanted));
  clearTimeout(counting);
  counting = setTimeout(() => showCounts(base, wanted));
}

/**
 * Says which words were not found, and in whose place words like them were taken.
 * @param {import("./search.js").Found | null} all
 */
function sayWords(all) {
  const say = (/** @type {string[]} */ words, /** @type {string | undefined} */ pattern) => words.map((word) => (pattern ?? "").replace("{word}", word));
  const typed = (/** @type {string} */ word) => field.value.split(/[\s,،]+/u).find((each) => foldsTo(each, word)) ?? word;
  const lines = [...say((all?.replaced ?? []).map(typed), wordNote.dataset.similar), ...say((all?.unknown ?? []).map(typed), wordNote.dataset.unknown)];
  wordNote.textContent = lines.join(" ");
  wordNote.hidden = lines.length === 0;
}

/**
 * @param {string} typed
 * @param {string} word
 * @returns {boolean}
 */
function foldsTo(typed, word) {
  return splitWords(typed, true).includes(word);
}

/**
 * @typedef {object} Offer  what may be taken away
 * @property {string} what
 * @property {number} count how many exercises are found then
 * @property {() => void} act
 */

/**
 * What may be taken away so that something is found: one word, or one filter.
 * @param {HTMLElement[]} base
 * @param {Map<string, string>} wanted
 * @returns {Offer[]}
 */
function offersFor(base, wanted) {
  const words = field.value.trim().split(/\s+/u);
  const fewer = words.length > 1 && words.length <= MOST_OFFERED ? words : [];
  const byWord = fewer.map((word, place) => {
    const rest = words.filter((_, at) => at !== place).join(" ");
    const count = isReady(rest) ? passing(exercisesAt(search(rest)?.fitting ?? []), wanted).length : 0;
    return { what: word, count, act: () => { field.value = rest; } };
  });
  const byFilter = selects.filter(({ value }) => value).map((select) => ({
    what: called.get(select.selectedOptions[0]) ?? "",
    count: passing(base, new Map([...wanted, [select.name, ""]])).length,
    act: () => { select.value = ""; },
  }));
  return [...byWord, ...byFilter].filter(({ count }) => count > 0);
}

/** @param {Offer[]} given */
function showOffers(given) {
  const pattern = offers.dataset.without ?? "";
  offers.replaceChildren(...given.map(({ what, count, act }) => {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = pattern.replace("{what}", what).replace("{n}", numbers.format(count));
    button.addEventListener("click", () => {
      act();
      changed();
      field.focus();
    });
    return button;
  }));
  offers.hidden = given.length === 0;
}

/**
 * Shows at each entry of each filter how many exercises it would leave; one that would leave none cannot be chosen.
 * @param {HTMLElement[]} base
 * @param {Map<string, string>} wanted
 */
function showCounts(base, wanted) {
  const counts = countEach(base.map(valuesOf), wanted);
  const pattern = shown.dataset.choice ?? "";
  for (const select of selects) {
    for (const option of Array.from(select.options)) {
      if (!option.value) continue;
      const count = counts.get(select.name)?.get(option.value) ?? 0;
      const text = pattern.replace("{choice}", called.get(option) ?? "").replace("{n}", numbers.format(count));
      if (option.text !== text) option.text = text;
      option.disabled = count === 0 && !option.selected;
    }
  }
}

/**
 * Shows what was found beside exercises.
 * @param {number[]} places
 * @returns {number} how many are shown
 */
function showSeveral(places) {
  const some = places.filter((at) => at >= rows.length).slice(0, MOST_SEVERAL).map((at) => entries[at - rows.length]);
  for (const entry of entries) entry.hidden = !some.includes(entry);
  some[0]?.parentElement?.prepend(...some);
  several.hidden = some.length === 0;
  return some.length;
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

/**
 * @param {Map<string, string>} wanted
 * @returns {number} how many exercises the filters let through; each group shows its own
 */
function showGroups(wanted) {
  showRanked([]);
  const through = new Set(passing(rows, wanted));
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
  const areas = groups.hidden ? [several, found] : [groups];
  return areas.flatMap((area) => Array.from(/** @type {NodeListOf<HTMLAnchorElement>} */ (area.querySelectorAll("li:not([hidden]) .row-title"))));
}

/** Opens the best exercise that fits, else the best programme or bundle; none that is only close. */
function openFirst() {
  const exercises = links().filter((link) => !several.contains(link));
  (closeHeading.hidden ? exercises[0] ?? links()[0] : undefined)?.click();
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
  if (isReady(query) && field.value === query) openFirst();
});
document.addEventListener("keydown", moveByArrow);
addEventListener("beforeprint", () => showMore(waiting.length));
addEventListener("hashchange", () => {
  // A link to a part of this page must not push what is searched out of the address.
  if (location.hash && !location.hash.includes("=")) return changed();
  readAddress();
  show();
});
