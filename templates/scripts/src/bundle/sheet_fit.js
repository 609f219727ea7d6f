/**
 * Sets an article as calmly as its page allows: tighter and with balanced columns until it fits, then its figure
 * grows into the room that is left.  The twin of handouts/paper/document.py, with the browser's own measuring.
 */

/** @typedef {{slug: string, head: string, margins: number[][]}} Place  A location: end of the head, and margins by paper. */
/**
 * @typedef {{papers: Record<string, number[]>, side: number, between: number, even: number, narrowest: number, widest: number,
 *   figure: number[], spare: number, lopsided: number, module: number, boxes: number, places: Place[], fits: Record<string, number[]>}} Measures
 * Millimetres; shares of a width.
 */

const PX_IN_MM = 96 / 25.4;
/** A share of a page that is only a fraction of a pixel. */
const ROUNDING = 0.002;
const FIT_NAMES = ["fit-0", "fit-1", "fit-2", "fit-3", "fit-4"];

/**
 * The top and bottom margin of a page.
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
 * @param {string[]} papers
 */
export function fitArticle(article, paper, place, measures, papers) {
  const [width, height] = measures.papers[paper];
  const [above, below] = marginsOf(place, paper, measures);
  const room = height - above - below;
  const inner = width - 2 * measures.side;
  let fit = measures.fits[article.id]?.[papers.indexOf(paper)] ?? 0;
  let share = measures.even;
  let settled = false;
  for (;;) {
    setArticle(article, fit, share, measures.figure[fit], inner, measures);
    if (!isTooLong(article, room)) break;
    const tightest = fit + 1 === FIT_NAMES.length;
    if (tightest && settled) {
      // The first page may take more pages: where it needs them it is set calmly, as in the PDF.
      if (article.id === "cover") setArticle(article, 0, measures.even, measures.figure[0], inner, measures);
      return;
    }
    share = balancedShare(article, share, measures.figure[fit], measures);
    settled = tightest;
    fit = Math.min(fit + 1, FIT_NAMES.length - 1);
  }
  growFigure(article, share, measures.figure[fit], room, inner, measures);
}

/**
 * @param {HTMLElement} article
 * @param {number} fit
 * @param {number} share
 * @param {number} figure
 * @param {number} inner
 * @param {Measures} measures
 */
function setArticle(article, fit, share, figure, inner, measures) {
  article.classList.remove(...FIT_NAMES);
  article.classList.add(FIT_NAMES[fit]);
  const left = (inner - measures.between) * share;
  setWidth(article, ".left", left);
  setWidth(article, ".right", inner - measures.between - left);
  const picture = article.querySelector(".figure");
  if (picture instanceof HTMLElement) picture.style.height = `${figure.toFixed(2)}mm`;
}

/**
 * @param {HTMLElement} article
 * @param {string} selector
 * @param {number} millimetres
 */
function setWidth(article, selector, millimetres) {
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
  return back + Math.max(1, Math.ceil((heightOf(article, "end") ?? 0) / room - ROUNDING));
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
 * The share of the left column at which both columns are equally high.
 * @param {HTMLElement} article
 * @param {number} share
 * @param {number} figure
 * @param {Measures} measures
 * @returns {number}
 */
function balancedShare(article, share, figure, measures) {
  const [top, left, right] = ["top", "left", "right"].map((mark) => heightOf(article, mark));
  if (top === null || left === null || right === null) return share;
  const leftArea = (left - top - figure) * share;
  const rightArea = (right - top) * (1 - share);
  let low = measures.narrowest;
  let high = measures.widest;
  for (let step = 0; step < 30; step += 1) {
    const middle = (low + high) / 2;
    if (figure + leftArea / middle > rightArea / (1 - middle)) low = middle;
    else high = middle;
  }
  const balanced = (low + high) / 2;
  return Math.abs(balanced - share) > measures.lopsided ? balanced : share;
}

/**
 * @param {HTMLElement} article
 * @param {number} share
 * @param {number} least
 * @param {number} room
 * @param {number} inner
 * @param {Measures} measures
 */
function growFigure(article, share, least, room, inner, measures) {
  const place = article.querySelector(".figure");
  const picture = place?.querySelector("img");
  const end = heightOf(article, "end");
  if (!(place instanceof HTMLElement) || !picture?.naturalHeight || end === null) return;
  const [left, right] = ["left", "right"].map((mark) => heightOf(article, mark));
  const slack = left === null || right === null ? 0 : Math.max(0, right - left);
  const free = least + (room - end) + slack - measures.spare;
  const width = left === null ? inner : (inner - measures.between) * share;
  place.style.height = `${Math.max(least, Math.min((width * picture.naturalHeight) / picture.naturalWidth, free)).toFixed(2)}mm`;
}
