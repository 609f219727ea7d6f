/**
 * What a page says of itself as it opens: that its review is over, that it is a kept copy and how old.  The words come
 * with the page; nothing is asked of the host.
 */

import { isPast, sayDay } from "./day.js";
import { keptSince } from "./served.js";

const place = document.getElementById("page-state");
const words = place?.dataset ?? {};

/**
 * @param {string | undefined} text
 * @returns {HTMLElement | undefined} the line, for a button
 */
function say(text) {
  if (!place || !text) return undefined;
  const line = document.createElement("p");
  line.textContent = `${text} `;
  place.append(line);
  place.hidden = false;
  return line;
}

/** @param {() => void} act shows the newer version */
export function sayNewer(act) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = words.show ?? "";
  button.addEventListener("click", act);
  say(words.newer)?.append(button);
}

/** @param {string} since an HTTP date, or nothing */
function sayKept(since) {
  const day = new Date(since);
  if (Number.isNaN(day.getTime())) return say(words.kept);
  return say(words.keptSince?.replace("{date}", sayDay(day.toISOString().slice(0, 10), document.documentElement.lang, { dateStyle: "long" })));
}

export async function sayState() {
  if (isPast(words.until)) say(words.over);
  const since = await keptSince();
  if (since !== null) sayKept(since);
}
