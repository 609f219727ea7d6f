/**
 * A QR code (ISO/IEC 18004) of an address and a code: the address in byte mode, the code in alphanumeric mode,
 * level M, versions 1 to 10.  Pure; gives the modules, draws nothing.
 */
/*! QR codes: lean-qr, Copyright (c) David Evans, MIT License */

import { correction, generate, mode } from "lean-qr";

const MOST_VERSION = 10;
/** The code of the encoder's error for data that do not fit. */
const TOO_LONG = 4;

/**
 * The modules of a code, row by row, true where dark; null where it does not fit in version 10.
 * @param {string} address  ASCII
 * @param {string} code  characters of the alphanumeric mode
 * @returns {boolean[][] | null}
 */
export function drawQr(address, code) {
  const options = { minCorrectionLevel: correction.M, maxCorrectionLevel: correction.M, maxVersion: MOST_VERSION };
  try {
    const drawn = generate(mode.multi(mode.ascii(address), mode.alphaNumeric(code)), options);
    const places = Array.from({ length: drawn.size }, (_, at) => at);
    return places.map((y) => places.map((x) => drawn.get(x, y)));
  } catch (fault) {
    if (/** @type {any} */ (fault).code === TOO_LONG) return null;
    throw fault;
  }
}
