/**
 * How a page came here, asked of its worker: from the host, or the copy that this device keeps; and whether a version
 * that waits is the one that the page is of already.  Changes to a version that waits.
 */

/** @typedef {{served?: {hash: string, since?: string}, hash?: string}} Told */

/** Milliseconds after which a worker that says nothing, such as one of an older version, is not waited for. */
const LONGEST_ANSWER = 1000;

/**
 * @param {ServiceWorker} worker
 * @returns {Promise<Told>}
 */
function ask(worker) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data);
    setTimeout(resolve, LONGEST_ANSWER, {});
    worker.postMessage({ page: location.href.split("#")[0] }, [port2]);
  });
}

/**
 * Since when the copy is kept that this page was made from, as an HTTP date that may be empty; null where the page
 * came from the host.
 * @returns {Promise<string | null>}
 */
export async function keptSince() {
  const worker = navigator.serviceWorker?.controller;
  return worker ? (await ask(worker)).served?.since ?? null : null;
}

/**
 * Looks for a newer version each time that the page comes into view again.
 * @param {ServiceWorkerRegistration} registration
 */
export function keepLooking(registration) {
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) registration.update().catch(() => {});
  });
}

/**
 * Whether this page is already of the version that waits.
 * @param {ServiceWorker} waiting
 * @returns {Promise<boolean>}
 */
export async function isOfVersion(waiting) {
  const { controller } = navigator.serviceWorker;
  if (!controller) return false;
  const [{ served }, { hash }] = await Promise.all([ask(controller), ask(waiting)]);
  return Boolean(served?.hash) && served?.hash === hash;
}

/**
 * Changes to the version that waits, and loads the page again.
 * @param {ServiceWorker} waiting
 */
export function takeOver(waiting) {
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  waiting.postMessage({ use: "waiting" });
}
