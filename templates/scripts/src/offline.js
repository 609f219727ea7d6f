/**
 * A page and its worker: registering it, and asking it to keep files.  Knows nothing of what is kept.
 */

import { scriptAddress } from "./phone/trust.js";
import { isOfVersion, keepLooking } from "./served.js";

/**
 * Registers the worker once the page is there: a slow connection is not shared with what is only kept for later.
 * @param {string} address
 * @param {(waiting: ServiceWorker, own: boolean) => void} updated  where a new version waits; whether this page, which the
 *   host gave, is of it already
 * @returns {Promise<ServiceWorker | null>} the worker in use
 */
export async function startWorker(address, updated) {
  if (document.readyState !== "complete") await new Promise((done) => addEventListener("load", done, { once: true }));
  const registration = await navigator.serviceWorker.register(scriptAddress(address), { updateViaCache: "none" });
  const own = new URL(address, location.href).href;
  const look = async () => {
    const { waiting, active } = registration;
    if (!waiting || !active) return;
    // another worker, which keeps nothing, may have stood in this place
    if (active.scriptURL !== own) waiting.postMessage({ use: "waiting" });
    else updated(waiting, await isOfVersion(waiting));
  };
  look();
  keepLooking(registration);
  registration.addEventListener("updatefound", () => registration.installing?.addEventListener("statechange", look));
  return registration.active?.scriptURL === own ? registration.active : whenActive(registration);
}

/**
 * The first worker of a registration once it serves.  The page's own "ready" may be another's: a worker of a folder above.
 * @param {ServiceWorkerRegistration} registration
 * @returns {Promise<ServiceWorker | null>}
 */
function whenActive(registration) {
  return new Promise((resolve) => {
    const worker = registration.installing ?? registration.waiting;
    const look = () => {
      if (registration.active === worker) resolve(worker ?? null);
      else if (worker?.state === "redundant") resolve(null);
    };
    worker?.addEventListener("statechange", look);
    look();
  });
}

/**
 * @param {ServiceWorker} worker
 * @param {string[]} wanted
 * @param {boolean} [more]  beside what was wanted before
 * @returns {Promise<boolean>} whether all of it is kept
 */
export function askToKeep(worker, wanted, more) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data.kept === true);
    worker.postMessage({ keep: wanted, more }, [port2]);
  });
}
