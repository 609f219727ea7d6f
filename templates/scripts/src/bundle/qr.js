/**
 * A QR code (ISO/IEC 18004) of an address and a code: the address in byte mode, the code in alphanumeric mode,
 * level M, versions 1 to 10; an address alone, level L or better where that costs no module; a log alone in alphanumeric mode,
 * level L, versions 1 to 25.  Pure; gives the modules, draws nothing.
 */
/*! QR codes: lean-qr, Copyright (c) David Evans, MIT License */

import { correction, generate, mode } from "lean-qr";

const MOST_VERSION = 10;
/** A log is read off a screen, once: it may be denser, and has less that can be restored. */
const MOST_LOG_VERSION = 25;
/** The code of the encoder's error for data that do not fit. */
const TOO_LONG = 4;

/**
 * The modules of a code, row by row, true where dark; null where it does not fit in version 10.
 * @param {string} address  ASCII
 * @param {string} code  characters of the alphanumeric mode
 * @returns {boolean[][] | null}
 */
export function drawQr(address, code) {
  return draw(mode.multi(mode.ascii(address), mode.alphaNumeric(code)), correction.M, MOST_VERSION);
}

/**
 * The modules of the code of an address alone; null where it does not fit in version 10.
 * @param {string} address  ASCII
 * @returns {boolean[][] | null}
 */
export function drawAddressQr(address) {
  return draw(mode.ascii(address), correction.L, MOST_VERSION, correction.H);
}

/**
 * The modules of the code of a log; null where it does not fit.
 * @param {string} code
 * @returns {boolean[][] | null}
 */
export function drawLogQr(code) {
  return draw(mode.alphaNumeric(code), correction.L, MOST_LOG_VERSION);
}

/**
 * @param {ReturnType<typeof mode.ascii>} data
 * @param {typeof correction.M} level
 * @param {number} maxVersion
 * @param {typeof correction.M} [most]
 * @returns {boolean[][] | null}
 */
function draw(data, level, maxVersion, most = level) {
  try {
    const drawn = generate(data, { minCorrectionLevel: level, maxCorrectionLevel: most, maxVersion });
    const places = Array.from({ length: drawn.size }, (_, at) => at);
    return places.map((y) => places.map((x) => drawn.get(x, y)));
  } catch (fault) {
    if (/** @type {any} */ (fault).code === TOO_LONG) return null;
    throw fault;
  }
}
