/** What keeps a new version from a session under way, in every window; and taking back what was kept. */

export const SESSION_LOCK = "handouts.my.session";

/** Whether a worker can be had here: not from a folder on disk. @returns {boolean} */
export function isPossible() {
  return location.protocol.startsWith("http") && "serviceWorker" in navigator && isSecureContext;
}

/** Holds off new versions in every window until the function given back is called. @returns {() => void} */
export function holdSession() {
  let release = () => {};
  const held = new Promise((resolve) => {
    release = () => resolve(true);
  });
  navigator.locks?.request(SESSION_LOCK, { mode: "shared" }, () => held);
  return release;
}

/** Takes back all that was kept of a patient for use without a connection, in every language. @returns {Promise<boolean>} whether nothing is left */
export async function eraseOffline() {
  if (!isPossible()) return true;
  try {
    const root = new URL(document.documentElement.dataset.root ?? "", location.href).href;
    const registrations = (await navigator.serviceWorker.getRegistrations()).filter(({ scope }) => scope.startsWith(root));
    const own = registrations.filter(({ scope, active }) => scope.endsWith("/my/") || active?.scriptURL.endsWith("/own-worker.js"));
    await Promise.all(own.map((each) => each.unregister()));
    const scopes = own.map(({ scope }) => scope);
    const ours = async () => (await caches.keys()).filter((name) => name.startsWith(`handouts:${root}`) && (/\/my\/:[^/]*$/.test(name) || scopes.some((scope) => name.startsWith(`handouts:${scope}:`))));
    for (const name of await ours()) await caches.delete(name);
    return (await ours()).length === 0;
  } catch {
    return false;
  }
}
