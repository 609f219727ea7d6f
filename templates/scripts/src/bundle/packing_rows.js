/** Rows on pages, by sums over their heights: the twin of handouts/paper/packing.py, whose cases the tests give to both. */

/**
 * How many rows stand in each of the rooms of the front, and on each further page; heights in millimetres, in order.
 * @param {number[]} rows
 * @param {number[]} front
 * @param {number} page
 * @param {number} gap  between two rows, at least
 * @returns {{first: number[], further: number[]}}
 */
export function fillPages(rows, front, page, gap) {
  /** @type {number[]} */
  const first = [];
  let start = 0;
  for (const room of front) {
    const count = fitting(rows.slice(start), room - gap, gap);
    first.push(count);
    start += count;
  }
  /** @type {number[]} */
  const pages = [];
  for (let rest = rows.slice(start); rest.length; rest = rest.slice(pages[pages.length - 1])) pages.push(Math.max(1, fitting(rest, page, gap)));
  return { first, further: evenOut(rows.slice(start), pages, page, gap) };
}

/**
 * How many of the first rows have room.
 * @param {number[]} rows
 * @param {number} room
 * @param {number} gap
 * @returns {number}
 */
function fitting(rows, room, gap) {
  let end = 0;
  let count = 0;
  for (const row of rows) {
    end += row + (count ? gap : 0);
    if (end > room) break;
    count += 1;
  }
  return count;
}

/**
 * As many pages, with about as many rows on each, where these have room.
 * @param {number[]} rows
 * @param {number[]} pages
 * @param {number} page
 * @param {number} gap
 * @returns {number[]}
 */
function evenOut(rows, pages, page, gap) {
  /** @type {number[]} */
  const even = [];
  let start = 0;
  for (let left = pages.length; left > 0; left -= 1) {
    const count = Math.ceil((rows.length - start) / left);
    if (fitting(rows.slice(start, start + count), page, gap) < count) return pages;
    even.push(count);
    start += count;
  }
  return even;
}

/**
 * The gap between rows in their room; where `above` is true, also before the first.
 * @param {number[]} rows
 * @param {number} room
 * @param {boolean} above
 * @param {number} most
 * @returns {number}
 */
export function gapOf(rows, room, above, most) {
  const free = Math.max(0, room - rows.reduce((sum, row) => sum + row, 0));
  return Math.min(most, free / Math.max(1, above ? rows.length + 1 : rows.length));
}
