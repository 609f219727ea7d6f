/**
 * The page without a connection, and new versions of it.  A new version waits until someone asks for it; while a
 * session is open in any window it cannot be asked for.
 */

import { SESSION_LOCK, isPossible } from "./lock.js";
import { scriptAddress } from "./trust.js";


/**
 * Keeps the page and some exercises for use without a connection.
 * @param {string[]} codes
 * @param {(kept: boolean) => void} told
 * @param {(waiting: ServiceWorker) => void} updated
 */
export async function keepOffline(codes, told, updated) {
  if (!isPossible()) return;
  // The first view comes first: a slow connection is not shared with what is only kept for later.
  if (document.readyState !== "complete") await new Promise((done) => addEventListener("load", done, { once: true }));
  try {
    const registration = await navigator.serviceWorker.register(scriptAddress("worker.js"), { updateViaCache: "none" });
    watchUpdates(registration, updated);
    const { active } = await navigator.serviceWorker.ready;
    told(active ? await askToKeep(active, codes) : false);
  } catch {
    told(Boolean(navigator.serviceWorker.controller));
  }
}

/**
 * @param {ServiceWorkerRegistration} registration
 * @param {(waiting: ServiceWorker) => void} updated
 */
function watchUpdates(registration, updated) {
  const look = () => {
    if (registration.waiting && navigator.serviceWorker.controller) updated(registration.waiting);
  };
  look();
  registration.addEventListener("updatefound", () => registration.installing?.addEventListener("statechange", look));
}

/**
 * @param {ServiceWorker} worker
 * @param {string[]} codes
 * @returns {Promise<boolean>}
 */
function askToKeep(worker, codes) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data.kept === true);
    worker.postMessage({ keep: codes }, [port2]);
  });
}

/**
 * Changes to the version that waits, unless a session is open somewhere.
 * @param {ServiceWorker} waiting
 * @returns {Promise<boolean>} false where a session is open
 */
export async function useUpdate(waiting) {
  return navigator.locks.request(SESSION_LOCK, { ifAvailable: true }, (lock) => {
    if (!lock) return false;
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
    waiting.postMessage({ use: "waiting" });
    return true;
  });
}
