/**
 * Sets an article as calmly as its page allows, its figure growing into the room that is left.  The same spacings as in
 * handouts/paper/stacking.py, with the browser's own measuring and its own columns.
 */

/** @typedef {{slug: string, head: string, margins: number[][]}} Place  A location: end of the head, and margins by paper. */
/**
 * @typedef {{papers: Record<string, number[]>, between: number, narrowest: number, widest: number, aim: number, tight: number, wide: number, little: number,
 *   gives: string[][], smallThings: number, figure: number[], lines: number[], gaps: number[], spare: number, module: number[], boxes: number, places: Place[],
 *   rows: {aim: number, most: number, calms: number[], figure: number[], gap: number[], share: number[], small: string[], twoInLine: number, lines: number, stops: number[]}}} Measures
 * Millimetres; shares of a width; heights of a line by that of its letters.  Of two, the tightest first; of figures, the usual first.
 */

export const PX_IN_MM = 96 / 25.4;
/** A share of a page that is only a fraction of a pixel. */
const ROUNDING = 0.002;
/** Steps in which the column of a figure is made narrower. */
const SHARES = 0.03;
/** Millimetres by which a figure may be lower so that a text comes back. */
const NEAR = 1;
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
  const fit = () => (article.querySelector(".back") ? fitLarge : fitStandard)(article, inner, room, measures);
  if (article.id === "cover") {
    fitCover(article, room);
    return;
  }
  fit();
  const fault = article.querySelector(".fault-figure");
  if (fault instanceof HTMLElement && article.querySelector(".mistakes li[hidden], .cut")) {
    // the picture of a mistake costs no page and no mistake
    fault.hidden = true;
    for (const cut of article.querySelectorAll(".cut")) cut.classList.remove("cut");
    fit();
  }
  listStops(article, fit, measures);
}

/**
 * Each stop rule of a sheet on a line of its own, where that costs no page and no word, and the figure little.
 * @param {HTMLElement} article
 * @param {() => void} fit
 * @param {Measures} measures
 */
function listStops(article, fit, measures) {
  const stops = article.querySelector(".stop");
  const right = article.querySelector(".right");
  if (!stops || !right || article.querySelector(".back, .cut, [hidden]:not(.fault-figure)")) return;
  const figure = article.querySelector(".figure")?.getBoundingClientRect().height ?? 0;
  const beside = Array.from(right.children);
  stops.classList.add("listed");
  fit();
  const now = article.querySelector(".figure")?.getBoundingClientRect().height ?? 0;
  const moved = right.children.length < beside.length;
  if (!moved && !article.querySelector(".cut, [hidden]:not(.fault-figure)") && now >= measures.little * figure) return;
  stops.classList.remove("listed");
  for (const cut of article.querySelectorAll(".cut")) cut.classList.remove("cut");
  right.append(...beside);
  fit();
}

/**
 * One page; with the steps alone beside a narrower figure where that spares a page; else two.
 * @param {HTMLElement} article
 * @param {number} inner
 * @param {number} room
 * @param {Measures} measures
 */
function fitStandard(article, inner, room, measures) {
  const end = /** @type {HTMLElement} */ (article.querySelector(`[id="${article.id}--end"]`));
  const all = leftOuts(article, measures, false);
  if (fitPage(article, setWidths(article, inner, measures, measures.aim), all, end, inner, room, measures)) return;
  const beside = moveBelow(article);
  const widest = shareOf(article, inner, measures, measures.aim);
  const tight = shareOf(article, inner, measures, measures.tight);
  for (let share = widest; share > tight - SHARES; share -= SHARES) {
    if (fitPage(article, setShare(article, inner, measures, Math.max(tight, share)), all, end, inner, room, measures)) return;
  }
  article.querySelector(".right")?.append(...beside);
  const highest = setWidths(article, inner, measures, measures.aim);
  for (const name of [".behind", ".safety"]) {
    const next = /** @type {HTMLElement} */ (article.querySelector(name));
    if (!fitPage(article, highest, leftOuts(article, measures, true), next, inner, room, measures)) continue;
    next.classList.add("cut");
    return;
  }
}

/**
 * What stands below the steps beside the figure, moved to the head of the columns.
 * @param {HTMLElement} article
 * @returns {Element[]}
 */
function moveBelow(article) {
  const beside = Array.from(article.querySelectorAll(".right > :not(.steps)"));
  article.querySelector(".columns")?.prepend(...beside);
  return beside;
}

/**
 * A page with its figure that ends above `end`: whether it fits.
 * @param {HTMLElement} article
 * @param {number} highest
 * @param {string[][]} outs
 * @param {HTMLElement} end
 * @param {number} inner
 * @param {number} room
 * @param {Measures} measures
 * @returns {boolean}
 */
function fitPage(article, highest, outs, end, inner, room, measures) {
  const wanted = Math.min(highest, wantedHeight(article, inner, measures));
  const lay = (/** @type {number} */ step, /** @type {string[]} */ out) => layPage(article, article, step, out, end, highest, room, measures);
  for (const low of measures.figure) {
    const chosen = choose(outs, Math.min(low, highest), wanted, measures.little, lay);
    if (!chosen) continue;
    setFigure(article, lay(chosen.step, chosen.out) ?? 0);
    return true;
  }
  return false;
}

/**
 * The page with the most text whose figure is as high as is wanted, or little lower than it could be; then the calmest.
 * @param {string[][]} outs
 * @param {number} low
 * @param {number} wanted
 * @param {number} little
 * @param {(step: number, out: string[]) => number | null} lay
 * @returns {{step: number, out: string[]} | null}
 */
export function choose(outs, low, wanted, little, lay) {
  /** @type {{out: string[], figure: number}[]} */
  const found = [];
  for (const out of outs) {
    const figure = lay(0, out);
    if (figure !== null && figure >= low) found.push({ out, figure });
    if ((figure ?? 0) >= wanted) break;
  }
  const enough = Math.min(wanted, little * Math.max(0, ...found.map(({ figure }) => figure)));
  const first = found.find(({ figure }) => figure >= enough);
  if (!first) return null;
  let [step, tight] = [0, SPACINGS + 1];
  while (tight - step > 1) {
    const middle = Math.floor((step + tight) / 2);
    if ((lay(middle, first.out) ?? -1) >= Math.max(low, enough)) step = middle;
    else tight = middle;
  }
  let { out } = first;
  let figure = lay(step, out) ?? 0;
  for (const name of [...out].reverse()) {
    const more = out.filter((each) => each !== name);
    const now = lay(step, more);
    if (now !== null && now > figure - NEAR) [out, figure] = [more, now];
  }
  return { step, out };
}

/**
 * Sets a page without its figure; gives the height that the figure may have, or null where the words have no room.
 * @param {HTMLElement} article
 * @param {HTMLElement} spaced  what the spacing is for
 * @param {number} step
 * @param {string[]} out
 * @param {HTMLElement} end
 * @param {number} highest
 * @param {number} room
 * @param {Measures} measures
 * @returns {number | null}
 */
function layPage(article, spaced, step, out, end, highest, room, measures) {
  setSpacing(spaced, step, measures);
  leaveOut(article, out, measures);
  setFigure(article, 0);
  const [left, right] = [".left", ".right"].map((name) => article.querySelector(`.lead > ${name}`)?.getBoundingClientRect().height ?? 0);
  const free = room - measures.spare - belowStart(article, end);
  return free < 0 ? null : Math.min(highest, free + Math.max(0, right - left) / PX_IN_MM);
}

/**
 * Two pages, or three, on the last of which the cautions stand; what has room below the steps stands there.
 * @param {HTMLElement} article
 * @param {number} inner
 * @param {number} room
 * @param {Measures} measures
 */
function fitLarge(article, inner, room, measures) {
  const [front, back] = [".front", ".back"].map((name) => /** @type {HTMLElement} */ (article.querySelector(name)));
  const end = /** @type {HTMLElement} */ (article.querySelector(`[id="${article.id}--end"]`));
  const highest = setWidths(article, inner, measures, measures.aim);
  const lows = [wantedHeight(article, inner, measures), ...measures.figure].map((low) => Math.min(low, highest));
  const safety = /** @type {HTMLElement} */ (back.querySelector(".safety"));
  const movable = Array.from(back.children).slice(0, Array.from(back.children).indexOf(safety));
  const place = (/** @type {number} */ low, /** @type {string[]} */ out, /** @type {HTMLElement | null} */ cut) => {
    safety.classList.toggle("cut", cut !== null);
    for (let count = movable.length; count >= 0; count -= 1) {
      end.before(...movable.slice(0, count));
      back.prepend(...movable.slice(count));
      const lay = (/** @type {number} */ step) => layPage(article, front, step, out, end, highest, room, measures);
      setSpacing(back, 0, measures);
      if ((lay(0) ?? -1) < low || !hasRoom(back, cut, room - measures.spare)) continue;
      let step = SPACINGS;
      while (step && (lay(step) ?? -1) < low) step -= 1;
      setFigure(article, lay(step) ?? 0);
      let calm = SPACINGS;
      for (setSpacing(back, calm, measures); calm && !hasRoom(back, cut, room - measures.spare); setSpacing(back, calm, measures)) calm -= 1;
      return true;
    }
    return false;
  };
  const find = (/** @type {number} */ low, /** @type {HTMLElement | null} */ cut) => {
    for (const all of leftOuts(article, measures, cut !== null)) {
      if (!place(low, all, cut)) continue;
      let out = all;
      for (const name of [...all].reverse()) {
        const more = out.filter((each) => each !== name);
        if (place(low, more, cut)) out = more;
        else place(low, out, cut);
      }
      return true;
    }
    return false;
  };
  for (const cut of [null, safety]) {
    const found = lows.find((low) => find(low, cut));
    if (found === undefined) continue;
    let [least, high] = [found, lows[0]];
    while (high - least > NEAR) {
      const middle = (least + high) / 2;
      if (find(middle, cut)) least = middle;
      else high = middle;
    }
    if (least < lows[0]) find(least, cut);
    return;
  }
}

/**
 * Whether what stands after the first page keeps to its page, or, before and from a place, to two.
 * @param {HTMLElement} back
 * @param {HTMLElement | null} cut
 * @param {number} room
 * @returns {boolean}
 */
function hasRoom(back, cut, room) {
  const { top, bottom } = back.getBoundingClientRect();
  const middle = cut ? cut.getBoundingClientRect().top : top;
  return (middle - top) / PX_IN_MM <= room && (bottom - middle) / PX_IN_MM <= room;
}

/**
 * What is left out, more and more; what is not there is not left out.
 * @param {HTMLElement} article
 * @param {Measures} measures
 * @param {boolean} small  only small things
 * @returns {string[][]}
 */
function leftOuts(article, measures, small) {
  const groups = measures.gives.slice(0, small ? measures.smallThings : undefined);
  const there = groups.map((group) => group.filter((name) => article.querySelector(selectorOf(name)))).filter((group) => group.length);
  return [[], ...there.map((_, at) => there.slice(0, at + 1).flat())];
}

/** @param {string} name @returns {string} of a block, or of an item in it by its number */
function selectorOf(name) {
  const [block, number] = name.split(" ");
  return number ? `.${block} li:nth-child(${number})` : `.${block}`;
}

/**
 * @param {HTMLElement} article
 * @param {string[]} out
 * @param {Measures} measures
 */
function leaveOut(article, out, measures) {
  for (const name of measures.gives.flat()) article.querySelector(selectorOf(name))?.toggleAttribute("hidden", out.includes(name));
}

/**
 * @param {HTMLElement} article
 * @param {number} millimetres
 */
function setFigure(article, millimetres) {
  const place = article.querySelector(".figure");
  if (place instanceof HTMLElement) place.style.height = `${millimetres.toFixed(2)}mm`;
}

/**
 * How far below the start of its article something stands, in millimetres.
 * @param {HTMLElement} article
 * @param {Element} mark
 * @returns {number}
 */
function belowStart(article, mark) {
  const start = article.getBoundingClientRect().top + parseFloat(getComputedStyle(article).paddingTop);
  return (mark.getBoundingClientRect().top - start) / PX_IN_MM;
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
 * @param {HTMLElement} article
 * @param {number} step
 * @param {Measures} measures
 */
export function setSpacing(article, step, measures) {
  const between = (/** @type {number[]} */ [low, high]) => low + ((high - low) * step) / SPACINGS;
  article.style.setProperty("--line", between(measures.lines).toFixed(4));
  article.style.setProperty("--gap", `${between(measures.gaps).toFixed(3)}mm`);
}

/** @param {HTMLElement} article @returns {number} width of its figure by its height */
function shapeOf(article) {
  const picture = article.querySelector(".figure img");
  return picture instanceof HTMLImageElement && picture.naturalHeight ? picture.naturalWidth / picture.naturalHeight : 1;
}

/**
 * The height at which the figure is as wide as it should be.
 * @param {HTMLElement} article
 * @param {number} inner
 * @param {Measures} measures
 * @returns {number}
 */
function wantedHeight(article, inner, measures) {
  return (measures.wide * inner) / shapeOf(article);
}

/**
 * The widths of figure and steps; gives the height at which the figure is as wide as its room.
 * @param {HTMLElement} article
 * @param {number} inner
 * @param {Measures} measures
 * @param {number} aim
 * @returns {number}
 */
function setWidths(article, inner, measures, aim) {
  return setShare(article, inner, measures, shareOf(article, inner, measures, aim));
}

/**
 * What the column of the figure has of the width, so that the figure is as high as is said.
 * @param {HTMLElement} article
 * @param {number} inner
 * @param {Measures} measures
 * @param {number} aim
 * @returns {number}
 */
function shareOf(article, inner, measures, aim) {
  return Math.min(measures.widest, Math.max(measures.narrowest, (aim * shapeOf(article)) / (inner - measures.between)));
}

/**
 * @param {HTMLElement} article
 * @param {number} inner
 * @param {Measures} measures
 * @param {number} share
 * @returns {number} the height at which the figure is as wide as its room
 */
function setShare(article, inner, measures, share) {
  const shape = shapeOf(article);
  const both = inner - measures.between;
  const left = both * share;
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
  const end = article.querySelector(`[id="${article.id}--end"]`);
  const begun = article.querySelectorAll(".cut, .back").length + 1; // a page that is cut short counts whole
  return Math.max(begun, Math.ceil((end ? belowStart(article, end) : 0) / room - ROUNDING));
}

/**
 * @param {HTMLElement} article
 * @param {number} room
 * @returns {boolean}
 */
function isTooLong(article, room) {
  const end = article.querySelector(`[id="${article.id}--end"]`);
  return (end ? belowStart(article, end) : 0) > room;
}
