/**
 * Picking while one browses: once something was picked for a patient in this tab, or in the only other tab with picks, each exercise
 * has a button that adds it, and the head of the page says how many there are.  A patient's browser never shows any of it.
 */

import { most_picks as MOST_PICKS } from "../../../handouts/bundle/code.json";
import { keepUpWithTabs, readFollowed, readPicked, wishFor } from "./picked.js";

/** @typedef {{page: string, add: string, added: string, named: string, forms: Record<string, string>}} Words */

/**
 * @param {Words} words
 * @param {string} code
 * @param {string} title
 * @param {string[]} picked
 * @returns {HTMLButtonElement}
 */
function makeButton({ add, added, named }, code, title, picked) {
  const button = document.createElement("button");
  const isIn = picked.includes(code);
  button.type = "button";
  button.className = "add-pick";
  button.dataset.code = code;
  button.disabled = isIn || picked.length >= MOST_PICKS;
  button.textContent = isIn ? added : add;
  button.setAttribute("aria-label", named.replace("{act}", button.textContent).replace("{exercise}", title));
  return button;
}

/**
 * Shows the buttons and the number, or nothing where nothing was picked.
 * @param {Words} words
 */
function show(words) {
  const own = readPicked();
  const picked = own.length ? own : readFollowed();
  for (const one of document.querySelectorAll(".add-pick, .picked-here")) one.remove();
  if (!picked.length) return;
  const form = words.forms[new Intl.PluralRules(document.documentElement.lang).select(picked.length)] ?? words.forms.other;
  const link = document.createElement(own.length ? "a" : "span"); // the list itself is in the other tab
  if (link instanceof HTMLAnchorElement) link.href = words.page;
  else link.tabIndex = -1;
  link.textContent = form.replace("{n}", String(picked.length));
  const item = document.createElement("li");
  item.className = "picked-here";
  item.append(link);
  document.querySelector(".pages ul")?.append(item);
  for (const place of document.querySelectorAll("[data-pick]")) {
    if (!(place instanceof HTMLElement)) continue;
    const title = (place.querySelector(".row-title") ?? document.querySelector("h1"))?.textContent ?? "";
    place.append(makeButton(words, place.dataset.pick ?? "", title, picked));
  }
}

/** Shows what this page has of it, also when one comes back to it. */
export function offerPicking() {
  const text = document.getElementById("page-state")?.dataset.picking;
  // the page where a patient's exercises are put together has a list of its own
  if (!text || document.getElementById("maker")) return;
  /** @type {Words} */
  const words = JSON.parse(text);
  show(words);
  keepUpWithTabs(() => show(words));
  addEventListener("pageshow", (event) => event.persisted && show(words));
  document.addEventListener("click", (event) => {
    const button = event.target instanceof HTMLElement ? event.target.closest(".add-pick") : null;
    if (!(button instanceof HTMLButtonElement)) return;
    const code = button.dataset.code ?? "";
    wishFor(code);
    show(words);
    const number = document.querySelector(".picked-here > *");
    if (number instanceof HTMLElement) number.focus({ preventScroll: true }); // so that a screen reader says how many there are
  });
}
