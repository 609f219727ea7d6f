/**
 * A QR code (ISO/IEC 18004) of an address and a code: the address in byte mode, the code in alphanumeric mode,
 * level M, versions 1 to 10.  Pure; gives the modules, draws nothing.
 */

const ALPHANUMERIC = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";
const MOST_VERSION = 10;
/** Error correction codewords in each block and number of blocks, level M, by version (ISO/IEC 18004 table 9). */
const CORRECTION = [10, 16, 26, 18, 24, 16, 18, 22, 22, 26];
const BLOCKS = [1, 1, 1, 2, 2, 4, 4, 4, 5, 5];
/** Places of the alignment patterns by version (ISO/IEC 18004 annex E). */
const ALIGNMENT = [[], [6, 18], [6, 22], [6, 26], [6, 30], [6, 34], [6, 22, 38], [6, 24, 42], [6, 26, 46], [6, 28, 50]];
const LEVEL_M = 0;

/**
 * The modules of a code, row by row, true where dark; null where it does not fit in version 10.
 * @param {string} address  ASCII
 * @param {string} code  characters of the alphanumeric mode
 * @returns {boolean[][] | null}
 */
export function drawQr(address, code) {
  for (let version = 1; version <= MOST_VERSION; version += 1) {
    const bits = segmentBits(address, code, version);
    if (bits.length <= dataCodewords(version) * 8) return bestMask(version, interleave(padBits(bits, version), version));
  }
  return null;
}

/**
 * Codewords of a symbol that are not function patterns.
 * @param {number} version
 * @returns {number}
 */
function allCodewords(version) {
  const side = 17 + 4 * version;
  const align = ALIGNMENT[version - 1].length;
  const patterns = 3 * 64 + 2 * (side - 16) + 31 + (align ? 25 * (align * align - 3) - 10 * (align - 2) : 0) + (version >= 7 ? 36 : 0);
  return Math.floor((side * side - patterns) / 8);
}

/**
 * @param {number} version
 * @returns {number}
 */
function dataCodewords(version) {
  return allCodewords(version) - CORRECTION[version - 1] * BLOCKS[version - 1];
}

/**
 * @param {string} address
 * @param {string} code
 * @param {number} version
 * @returns {number[]}
 */
function segmentBits(address, code, version) {
  /** @type {number[]} */
  const bits = [];
  pushBits(bits, 0b0100, 4);
  pushBits(bits, address.length, version < 10 ? 8 : 16);
  for (const character of address) pushBits(bits, character.charCodeAt(0), 8);
  pushBits(bits, 0b0010, 4);
  pushBits(bits, code.length, version < 10 ? 9 : 11);
  for (let at = 0; at < code.length; at += 2) {
    const first = ALPHANUMERIC.indexOf(code[at]);
    if (at + 1 < code.length) pushBits(bits, first * 45 + ALPHANUMERIC.indexOf(code[at + 1]), 11);
    else pushBits(bits, first, 6);
  }
  return bits;
}

/**
 * @param {number[]} bits
 * @param {number} value
 * @param {number} count
 */
function pushBits(bits, value, count) {
  for (let at = count - 1; at >= 0; at -= 1) bits.push((value >> at) & 1);
}

/**
 * The data codewords: terminator, whole bytes, then the two pad codewords in turn.
 * @param {number[]} bits
 * @param {number} version
 * @returns {number[]}
 */
function padBits(bits, version) {
  const room = dataCodewords(version);
  pushBits(bits, 0, Math.min(4, room * 8 - bits.length));
  while (bits.length % 8) bits.push(0);
  /** @type {number[]} */
  const bytes = [];
  for (let at = 0; at < bits.length; at += 8) bytes.push(parseInt(bits.slice(at, at + 8).join(""), 2));
  for (let pad = 0; bytes.length < room; pad += 1) bytes.push(pad % 2 ? 0x11 : 0xec);
  return bytes;
}

/**
 * The data in its blocks with their error correction, interleaved.
 * @param {number[]} data
 * @param {number} version
 * @returns {number[]}
 */
function interleave(data, version) {
  const blocks = BLOCKS[version - 1];
  const correction = CORRECTION[version - 1];
  const short = Math.floor(data.length / blocks);
  const firstLong = blocks - (data.length % blocks);
  const divisor = generatorOf(correction);
  /** @type {number[][]} */
  const parts = [];
  /** @type {number[][]} */
  const checks = [];
  let at = 0;
  for (let block = 0; block < blocks; block += 1) {
    const part = data.slice(at, (at += short + (block >= firstLong ? 1 : 0)));
    parts.push(part);
    checks.push(remainderOf(part, divisor));
  }
  const found = [];
  for (let place = 0; place <= short; place += 1) for (const part of parts) if (place < part.length) found.push(part[place]);
  for (let place = 0; place < correction; place += 1) for (const check of checks) found.push(check[place]);
  return found;
}

/**
 * Product in GF(256) with x^8 + x^4 + x^3 + x^2 + 1.
 * @param {number} one
 * @param {number} other
 * @returns {number}
 */
function multiply(one, other) {
  let product = 0;
  for (let bit = 7; bit >= 0; bit -= 1) {
    product = (product << 1) ^ ((product >>> 7) * 0x11d);
    product ^= ((other >>> bit) & 1) * one;
  }
  return product;
}

/**
 * The generator polynomial of a degree, without its leading 1.
 * @param {number} degree
 * @returns {number[]}
 */
function generatorOf(degree) {
  /** @type {number[]} */
  const found = Array.from({ length: degree }, (_, at) => (at === degree - 1 ? 1 : 0));
  let root = 1;
  for (let step = 0; step < degree; step += 1) {
    for (let at = 0; at < degree; at += 1) found[at] = multiply(found[at], root) ^ (at + 1 < degree ? found[at + 1] : 0);
    root = multiply(root, 2);
  }
  return found;
}

/**
 * @param {number[]} data
 * @param {number[]} divisor
 * @returns {number[]}
 */
function remainderOf(data, divisor) {
  let found = divisor.map(() => 0);
  for (const value of data) {
    const factor = value ^ found[0];
    found = [...found.slice(1), 0].map((part, at) => part ^ multiply(divisor[at], factor));
  }
  return found;
}

/** @typedef {{dark: boolean[][], fixed: boolean[][]}} Symbol  Modules, and which of them are function patterns. */

/**
 * @param {number} version
 * @returns {Symbol}
 */
function emptySymbol(version) {
  const side = 17 + 4 * version;
  const rows = () => Array.from({ length: side }, () => Array.from({ length: side }, () => false));
  /** @type {Symbol} */
  const symbol = { dark: rows(), fixed: rows() };
  for (let at = 0; at < side; at += 1) {
    setModule(symbol, 6, at, at % 2 === 0);
    setModule(symbol, at, 6, at % 2 === 0);
  }
  for (const [x, y] of [[3, 3], [side - 4, 3], [3, side - 4]]) drawRings(symbol, x, y, 4);
  const places = ALIGNMENT[version - 1];
  const last = places.length - 1;
  places.forEach((x, column) => places.forEach((y, row) => {
    const corner = (column === 0 && row === 0) || (column === 0 && row === last) || (column === last && row === 0);
    if (!corner) drawRings(symbol, x, y, 2);
  }));
  drawVersion(symbol, version);
  drawFormat(symbol, 0);
  return symbol;
}

/**
 * @param {Symbol} symbol
 * @param {number} x
 * @param {number} y
 * @param {boolean} dark
 */
function setModule(symbol, x, y, dark) {
  symbol.dark[y][x] = dark;
  symbol.fixed[y][x] = true;
}

/**
 * A finder (reach 4, with its separator) or an alignment pattern (reach 2).
 * @param {Symbol} symbol
 * @param {number} x
 * @param {number} y
 * @param {number} reach
 */
function drawRings(symbol, x, y, reach) {
  const side = symbol.dark.length;
  for (let dy = -reach; dy <= reach; dy += 1) {
    for (let dx = -reach; dx <= reach; dx += 1) {
      const distance = Math.max(Math.abs(dx), Math.abs(dy));
      const inside = x + dx >= 0 && x + dx < side && y + dy >= 0 && y + dy < side;
      if (inside) setModule(symbol, x + dx, y + dy, reach === 4 ? distance !== 2 && distance !== 4 : distance !== 1);
    }
  }
}

/**
 * The version in two places, from version 7 on (BCH 18,6).
 * @param {Symbol} symbol
 * @param {number} version
 */
function drawVersion(symbol, version) {
  if (version < 7) return;
  let rest = version;
  for (let step = 0; step < 12; step += 1) rest = (rest << 1) ^ ((rest >>> 11) * 0x1f25);
  const bits = (version << 12) | rest;
  for (let at = 0; at < 18; at += 1) {
    const far = symbol.dark.length - 11 + (at % 3);
    const near = Math.floor(at / 3);
    setModule(symbol, far, near, ((bits >> at) & 1) === 1);
    setModule(symbol, near, far, ((bits >> at) & 1) === 1);
  }
}

/**
 * Level and mask in two places (BCH 15,5).
 * @param {Symbol} symbol
 * @param {number} mask
 */
function drawFormat(symbol, mask) {
  const data = (LEVEL_M << 3) | mask;
  let rest = data;
  for (let step = 0; step < 10; step += 1) rest = (rest << 1) ^ ((rest >>> 9) * 0x537);
  const bits = ((data << 10) | rest) ^ 0x5412;
  const side = symbol.dark.length;
  const dark = (/** @type {number} */ at) => ((bits >> at) & 1) === 1;
  for (let at = 0; at < 15; at += 1) {
    const near = at < 6 ? at : at < 8 ? at + 1 : 14 - at + (at === 8 ? 1 : 0);
    if (at < 8) {
      setModule(symbol, 8, near, dark(at));
      setModule(symbol, side - 1 - at, 8, dark(at));
    } else {
      setModule(symbol, near, 8, dark(at));
      setModule(symbol, 8, side - 15 + at, dark(at));
    }
  }
  setModule(symbol, 8, side - 8, true);
}

/**
 * The symbol with each mask in turn; the one with the least penalty.
 * @param {number} version
 * @param {number[]} codewords
 * @returns {boolean[][]}
 */
function bestMask(version, codewords) {
  let best = /** @type {boolean[][]} */ ([]);
  let least = Infinity;
  for (let mask = 0; mask < 8; mask += 1) {
    const symbol = emptySymbol(version);
    placeCodewords(symbol, codewords, mask);
    drawFormat(symbol, mask);
    const penalty = penaltyOf(symbol.dark);
    if (penalty < least) {
      best = symbol.dark;
      least = penalty;
    }
  }
  return best;
}

/** @type {((x: number, y: number) => number)[]} A module is turned over where its mask gives 0. */
const MASKS = [
  (x, y) => (x + y) % 2,
  (_, y) => y % 2,
  (x) => x % 3,
  (x, y) => (x + y) % 3,
  (x, y) => (Math.floor(x / 3) + Math.floor(y / 2)) % 2,
  (x, y) => ((x * y) % 2) + ((x * y) % 3),
  (x, y) => (((x * y) % 2) + ((x * y) % 3)) % 2,
  (x, y) => (((x + y) % 2) + ((x * y) % 3)) % 2,
];

/**
 * The codewords in columns of two, up and down by turns, from the right.
 * @param {Symbol} symbol
 * @param {number[]} codewords
 * @param {number} mask
 */
function placeCodewords(symbol, codewords, mask) {
  const side = symbol.dark.length;
  let at = 0;
  for (let right = side - 1; right >= 1; right -= 2) {
    if (right === 6) right = 5;
    for (let step = 0; step < side; step += 1) {
      const y = ((right + 1) & 2) === 0 ? side - 1 - step : step;
      for (const x of [right, right - 1]) {
        if (symbol.fixed[y][x]) continue;
        const bit = at < codewords.length * 8 ? (codewords[at >> 3] >> (7 - (at & 7))) & 1 : 0;
        symbol.dark[y][x] = (bit === 1) !== (MASKS[mask](x, y) === 0);
        at += 1;
      }
    }
  }
}

/**
 * The penalty of a symbol: long runs, blocks, patterns like a finder, imbalance (ISO/IEC 18004 7.8.3).
 * @param {boolean[][]} dark
 * @returns {number}
 */
function penaltyOf(dark) {
  const side = dark.length;
  const columns = dark.map((_, x) => dark.map((row) => row[x]));
  let penalty = 0;
  for (const line of [...dark, ...columns]) {
    const text = line.map((module) => (module ? "1" : "0")).join("");
    for (const run of text.match(/0{5,}|1{5,}/g) ?? []) penalty += run.length - 2;
    for (let at = 0; at + 11 <= side; at += 1) {
      const part = text.slice(at, at + 11);
      if (part === "10111010000" || part === "00001011101") penalty += 40;
    }
  }
  for (let y = 0; y + 1 < side; y += 1) {
    for (let x = 0; x + 1 < side; x += 1) {
      if (dark[y][x] === dark[y][x + 1] && dark[y][x] === dark[y + 1][x] && dark[y][x] === dark[y + 1][x + 1]) penalty += 3;
    }
  }
  const share = dark.flat().filter(Boolean).length / (side * side);
  return penalty + Math.floor(Math.abs(share * 20 - 10)) * 10;
}
