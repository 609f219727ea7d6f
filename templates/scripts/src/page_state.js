/**
 * What a page says of itself: that its review is over, that it is a kept copy and how old, that a newer version is there.
 * The words come with the page; nothing is asked of the host.
 */

import { isPast, sayDay } from "./day.js";
import { isOfVersion, keptSince, takeOver } from "./served.js";

const place = document.getElementById("page-state");
const words = place?.dataset ?? {};

/**
 * @param {string | undefined} text
 * @param {() => void} [act]
 */
function say(text, act) {
  if (!place || !text) return;
  const line = document.createElement("p");
  line.textContent = `${text} `;
  if (act) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = words.show ?? "";
    button.addEventListener("click", act);
    line.append(button);
  }
  place.append(line);
  place.hidden = false;
}

/** @param {string} since an HTTP date, or nothing */
function sayKept(since) {
  const day = new Date(since);
  if (Number.isNaN(day.getTime())) return say(words.kept);
  const said = sayDay(day.toISOString().slice(0, 10), document.documentElement.lang, { dateStyle: "long" });
  say(words.keptSince?.replace("{date}", said));
}

let told = false;

/** @param {() => void} act */
function sayNewer(act) {
  // Pages with a list or a bundle tell it in their own place.
  if (told || document.getElementById("use-update")) return;
  told = true;
  say(words.newer, act);
}

async function watchVersions() {
  const registration = await navigator.serviceWorker.getRegistration();
  const { controller } = navigator.serviceWorker;
  if (!registration || !controller) return;
  const look = async () => {
    const { waiting } = registration;
    if (!waiting || (await isOfVersion(waiting))) return;
    sayNewer(() => takeOver(waiting));
  };
  registration.addEventListener("updatefound", () => registration.installing?.addEventListener("statechange", look));
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) registration.update().catch(() => {});
  });
  await look();
}

if (isPast(words.until)) say(words.over);
if ("serviceWorker" in navigator && location.protocol.startsWith("http")) {
  keptSince().then((since) => since !== null && sayKept(since));
  watchVersions().catch(() => {});
}
