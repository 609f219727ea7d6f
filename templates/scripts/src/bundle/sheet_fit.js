/**
 * Sets an article as calmly as its page allows, its figure growing into the room that is left.  The same spacings as in
 * handouts/paper/stacking.py, with the browser's own measuring and its own columns.
 */

/** @typedef {{slug: string, head: string, margins: number[][]}} Place  A location: end of the head, and margins by paper. */
/**
 * @typedef {{papers: Record<string, number[]>, between: number, narrowest: number, widest: number, aim: number,
 *   figure: number[], lines: number[], gaps: number[], spare: number, module: number, boxes: number, places: Place[],
 *   rows: {aim: number, most: number, calms: number[], figure: number[], gap: number[], share: number[], small: string[], twoInLine: number, lines: number, stops: number[]}}} Measures
 * Millimetres; shares of a width; heights of a line by that of its letters.  Of two, the tightest first; of figures, the usual first.
 */

export const PX_IN_MM = 96 / 25.4;
/** A share of a page that is only a fraction of a pixel. */
const ROUNDING = 0.002;
/** Spacings that are tried, between the tightest and the calmest. */
export const SPACINGS = 12;
const FIT_NAMES = ["fit-0", "fit-1", "fit-2", "fit-3", "fit-4"];

/**
 * The top, bottom and side margin of a page.
 * @param {Place} place
 * @param {string} paper
 * @param {Measures} measures
 * @returns {number[]}
 */
export function marginsOf(place, paper, measures) {
  return place.margins[Object.keys(measures.papers).indexOf(paper)];
}

/**
 * @param {HTMLElement} article
 * @param {string} paper
 * @param {Place} place
 * @param {Measures} measures
 */
export function fitArticle(article, paper, place, measures) {
  const [width, height] = measures.papers[paper];
  const [above, below, side] = marginsOf(place, paper, measures);
  const room = height - above - below;
  const inner = width - 2 * side;
  if (article.id === "cover") {
    fitCover(article, room);
    return;
  }
  const [usual, least] = measures.figure;
  for (const low of [usual, least]) {
    const widest = setWidths(article, inner, measures);
    const figure = Math.min(low, widest);
    if (!setCalmly(article, figure, room, measures)) continue;
    growFigure(article, figure, widest, room, measures);
    return;
  }
}

/**
 * The first page may take more pages: where it needs them it is set calmly, as in the PDF.
 * @param {HTMLElement} article
 * @param {number} room
 */
function fitCover(article, room) {
  for (const name of [...FIT_NAMES, FIT_NAMES[0]]) {
    article.classList.remove(...FIT_NAMES);
    article.classList.add(name);
    if (!isTooLong(article, room)) return;
  }
}

/**
 * The calmest spacing in which an article fits, or the tightest; whether it fits.
 * @param {HTMLElement} article
 * @param {number} figure
 * @param {number} room
 * @param {Measures} measures
 * @returns {boolean}
 */
function setCalmly(article, figure, room, measures) {
  const picture = article.querySelector(".figure");
  if (picture instanceof HTMLElement) picture.style.height = `${figure.toFixed(2)}mm`;
  let [low, high] = [0, SPACINGS];
  setSpacing(article, high, measures);
  if (!isTooLong(article, room)) return true;
  setSpacing(article, low, measures);
  if (isTooLong(article, room)) return false;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    setSpacing(article, middle, measures);
    if (isTooLong(article, room)) high = middle;
    else low = middle;
  }
  setSpacing(article, low, measures);
  return true;
}

/**
 * @param {HTMLElement} article
 * @param {number} step
 * @param {Measures} measures
 */
export function setSpacing(article, step, measures) {
  const between = (/** @type {number[]} */ [low, high]) => low + ((high - low) * step) / SPACINGS;
  article.style.setProperty("--line", between(measures.lines).toFixed(4));
  article.style.setProperty("--gap", `${between(measures.gaps).toFixed(3)}mm`);
}

/**
 * The widths of figure and steps; gives the height at which the figure is as wide as its room.
 * @param {HTMLElement} article
 * @param {number} inner
 * @param {Measures} measures
 * @returns {number}
 */
function setWidths(article, inner, measures) {
  const picture = article.querySelector(".figure img");
  const shape = picture instanceof HTMLImageElement && picture.naturalHeight ? picture.naturalWidth / picture.naturalHeight : 1;
  if (!article.querySelector(".lead")) return inner / shape;
  const both = inner - measures.between;
  const left = both * Math.min(measures.widest, Math.max(measures.narrowest, (measures.aim * shape) / both));
  setWidth(article, ".left", left);
  setWidth(article, ".right", both - left);
  return left / shape;
}

/**
 * @param {HTMLElement} article
 * @param {string} selector
 * @param {number} millimetres
 */
export function setWidth(article, selector, millimetres) {
  const column = article.querySelector(selector);
  if (column instanceof HTMLElement) column.style.width = `${millimetres.toFixed(2)}mm`;
}

/**
 * How far below the start of its page something stands, in millimetres; null where it is not there.
 * @param {HTMLElement} article
 * @param {string} mark
 * @returns {number | null}
 */
function heightOf(article, mark) {
  const found = article.querySelector(`[id="${article.id}--${mark}"]`);
  const start = article.getBoundingClientRect().top + parseFloat(getComputedStyle(article).paddingTop);
  return found ? (found.getBoundingClientRect().top - start) / PX_IN_MM : null;
}

/**
 * How many pages of paper an article takes.
 * @param {HTMLElement} article
 * @param {number} height  of the paper, in millimetres
 * @param {Place} place
 * @param {string} paper
 * @param {Measures} measures
 * @returns {number}
 */
export function countPages(article, height, place, paper, measures) {
  const [above, below] = marginsOf(place, paper, measures);
  const room = height - above - below;
  const back = article.querySelector(".back") ? 1 : 0;
  const begun = article.querySelectorAll(".cut").length + 1; // a page that is cut short counts whole
  return back + Math.max(begun, Math.ceil((heightOf(article, "end") ?? 0) / room - ROUNDING));
}

/**
 * @param {HTMLElement} article
 * @param {number} room
 * @returns {boolean}
 */
function isTooLong(article, room) {
  const back = article.querySelector(".back");
  const second = back ? (back.getBoundingClientRect().height + parseFloat(getComputedStyle(back).marginTop)) / PX_IN_MM : 0;
  return (heightOf(article, "end") ?? 0) > room || second > room;
}

/**
 * @param {HTMLElement} article
 * @param {number} least
 * @param {number} widest
 * @param {number} room
 * @param {Measures} measures
 */
function growFigure(article, least, widest, room, measures) {
  const place = article.querySelector(".figure");
  const end = heightOf(article, "end");
  const steps = article.querySelector(".lead .right");
  const left = article.querySelector(".lead .left");
  if (!(place instanceof HTMLElement) || end === null) return;
  const beside = steps && left ? (steps.getBoundingClientRect().height - left.getBoundingClientRect().height) / PX_IN_MM : 0;
  const free = least + (room - end) + Math.max(0, beside) - measures.spare;
  place.style.height = `${Math.max(least, Math.min(widest, free)).toFixed(2)}mm`;
}
