/**
 * The clinician's pages without a connection: one worker for the whole site keeps the bundle page, the sheets and the
 * library of every language, and the rest of this language.  A new version waits for a tap, or until all of these
 * pages are closed.
 */

import { askToKeep, startWorker } from "../offline.js";
import { takeOver } from "../served.js";

/**
 * Whether this page can have a worker: from a folder it needs none, and who saves data is not asked to load a library.
 * @returns {boolean}
 */
function isPossible() {
  const { connection } = /** @type {{connection?: {saveData?: boolean}}} */ (navigator);
  return "serviceWorker" in navigator && isSecureContext && location.protocol.startsWith("http") && !connection?.saveData;
}

/**
 * Keeps the pages.
 * @param {string} address  of the worker, from the page
 * @param {(kept: boolean) => void} told
 * @param {(use: () => void) => void} updated  where a new version waits, or is in use already but here; with what
 *   changes to it
 */
export async function keepPages(address, told, updated) {
  if (!isPossible()) return;
  const controlled = Boolean(navigator.serviceWorker.controller?.scriptURL.endsWith("/worker.js"));
  let own = false;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    // Another window changed to the new version: this one still shows the old.
    if (controlled && !own) updated(() => location.reload());
  });
  const look = (/** @type {ServiceWorker} */ waiting, /** @type {boolean} */ isOwn) => {
    own = isOwn;
    if (isOwn) waiting.postMessage({ use: "waiting" });
    else updated(() => takeOver(waiting));
  };
  try {
    const active = await startWorker(address, look);
    told(active ? await askToKeep(active, [document.documentElement.lang], true) : false);
  } catch {
    told(navigator.serviceWorker.controller !== null);
  }
}
