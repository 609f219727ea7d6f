/** The two kinds of scripts that a page may name by itself: its worker, and scripts of its own build. */

const TRUSTED = /^(?:\.\.\/\.\.\/assets\/[a-z0-9][\w.-]*\.js|(?:\.\.\/)*(?:own-)?worker\.js)$/;

/**
 * @param {string} address
 * @returns {string}
 */
function checkAddress(address) {
  if (!TRUSTED.test(address)) throw new TypeError("this script is not of this page");
  return address;
}

const trusted = /** @type {any} */ (globalThis).trustedTypes?.createPolicy("handouts", { createScriptURL: checkAddress });

/**
 * An address that the page's policy lets through as a script.
 * @param {string} address
 * @returns {string}
 */
export function scriptAddress(address) {
  return trusted ? trusted.createScriptURL(address) : checkAddress(address);
}
