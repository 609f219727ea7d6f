/** Keeps the screen on during a session where the phone lets a page ask for it. */

/** @type {WakeLockSentinel | null} */
let lock = null;
let wanted = false;

/** @param {boolean} on */
export async function keepScreenOn(on) {
  wanted = on;
  if (!on) {
    const held = lock;
    lock = null;
    await held?.release().catch(() => {});
    return;
  }
  if (lock && !lock.released) return;
  try {
    lock = (await navigator.wakeLock?.request("screen")) ?? null;
    if (!wanted) await keepScreenOn(false);
  } catch {
    lock = null;
  }
}

/** The phone lets go of the screen whenever the page is hidden. */
export function regainScreen() {
  if (wanted && document.visibilityState === "visible") keepScreenOn(true);
}
