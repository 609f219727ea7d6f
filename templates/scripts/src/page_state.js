/** What a page says of itself: what it opens with, and that a newer version is there. */

import { sayNewer, sayState } from "./page_words.js";
import { offerPicking } from "./picking.js";
import { ownName } from "./place.js";
import { isOfVersion, keepLooking, takeOver } from "./served.js";

let told = false;

async function watchVersions() {
  const registration = await navigator.serviceWorker.getRegistration();
  const { controller } = navigator.serviceWorker;
  if (!registration || !controller) return;
  const look = async () => {
    const { waiting } = registration;
    // Pages with a bundle tell it in their own place.
    if (!waiting || told || document.getElementById("use-update") || (await isOfVersion(waiting))) return;
    told = true;
    sayNewer(() => takeOver(waiting));
  };
  registration.addEventListener("updatefound", () => registration.installing?.addEventListener("statechange", look));
  // A page that starts its worker looks by itself.
  if (!document.getElementById("use-update")) keepLooking(registration);
  await look();
}

/** In a browser that keeps a patient's list a link leads to it, in the place of the clinicians' link: that one goes to the foot, so that nothing moves. */
function showMine() {
  const mine = document.getElementById("mine");
  const last = mine?.previousElementSibling;
  const foot = document.querySelector(".imprint ul");
  try {
    if (!mine || !last || !foot || !localStorage.getItem(ownName("my.list"))) return;
  } catch {
    return;
  }
  mine.hidden = false;
  if (!last.querySelector("[aria-current]")) foot.append(last);
}

showMine();
sayState();
offerPicking();
if ("serviceWorker" in navigator && location.protocol.startsWith("http")) watchVersions().catch(() => {});
