/**
 * The page without a connection, and new versions of it.  A new version waits until someone asks for it; while a
 * session is open in any window it cannot be asked for.
 */

import { askToKeep, startWorker } from "../offline.js";
import { takeOver } from "../served.js";
import { SESSION_LOCK, isPossible } from "./lock.js";
import { scriptAddress } from "./trust.js";

/**
 * Keeps the page and some exercises for use without a connection.
 * @param {string[]} codes
 * @param {(kept: boolean) => void} told
 * @param {(waiting: ServiceWorker) => void} updated  where a version waits that this page is not of
 */
export async function keepOffline(codes, told, updated) {
  if (!isPossible()) return;
  try {
    const active = await startWorker("worker.js", (waiting, own) => (own ? useQuietly(waiting) : updated(waiting)));
    told(active ? await askToKeep(active, codes) : false);
    if (active) await leadBack();
  } catch {
    // The worker of the clinician's pages may serve this page too; it does not keep it.
    told(Boolean(navigator.serviceWorker.controller?.scriptURL.endsWith("/my/worker.js")));
  }
}

/** From every page of the site a link leads back here without a network: by its worker, or by one that does only this. */
async function leadBack() {
  const root = document.documentElement.dataset.root ?? "";
  const scope = new URL(root, location.href).href;
  const found = await navigator.serviceWorker.getRegistration(scope);
  if (found?.scope !== scope) await navigator.serviceWorker.register(scriptAddress(`${root}own-worker.js`), { updateViaCache: "none" });
}

/**
 * A page that is of the new version already needs no tap, unless a session is open somewhere.
 * @param {ServiceWorker} waiting
 */
function useQuietly(waiting) {
  navigator.locks.request(SESSION_LOCK, { ifAvailable: true }, (lock) => lock && waiting.postMessage({ use: "waiting" }));
}

/**
 * Changes to the version that waits, unless a session is open somewhere.
 * @param {ServiceWorker} waiting
 * @returns {Promise<boolean>} false where a session is open
 */
export async function useUpdate(waiting) {
  return navigator.locks.request(SESSION_LOCK, { ifAvailable: true }, (lock) => {
    if (!lock) return false;
    takeOver(waiting);
    return true;
  });
}
