/** Draws a figure element by element, and moves its end picture. */

import { mapAt, outlineAt } from "./motion.js";

/** @typedef {[string, Record<string, string>, (Tree | string)[]?]} Tree */
/** @typedef {import("./motion.js").Motion} Motion */
/** @typedef {{svg: SVGElement, panels: SVGElement[]}} DrawnFigure */

const SPACE = "http://www.w3.org/2000/svg";
/** Marks of a still picture that tell of the movement: ghost and arrow. */
const TELLING = ["y", "w", "v", "x", "z"];

/**
 * @param {Tree} tree
 * @returns {SVGElement}
 */
function drawTree([name, attributes, children = []]) {
  const element = /** @type {SVGElement} */ (document.createElementNS(SPACE, name));
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.append(...children.map((child) => (typeof child === "string" ? child : drawTree(child))));
  return element;
}

/**
 * @param {Tree} tree
 * @param {string} words what the figure shows, for a screen reader
 * @returns {DrawnFigure}
 */
export function drawFigure(tree, words) {
  const svg = drawTree(tree);
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-label", words);
  const panels = Array.from(svg.children).filter((child) => child.tagName === "g" && !child.querySelector("circle.r"));
  return { svg, panels: /** @type {SVGElement[]} */ (panels) };
}

/**
 * The end picture alone, ready to move; null where the figure does not move.
 * @param {DrawnFigure} figure
 * @param {Motion | null} motion
 * @returns {((share: number) => void) | null} puts the figure at a share of the way
 */
export function makeMover(figure, motion) {
  const panel = figure.panels.at(-1);
  if (!motion || !panel || figure.panels.length < 2) return null;
  const marks = /** @type {SVGElement[]} */ (Array.from(panel.children));
  const still = Array.from(figure.svg.children).filter((child) => child !== panel);
  for (const child of still) child.remove();
  for (const mark of marks) if (TELLING.includes(mark.getAttribute("class") ?? "")) mark.remove();
  const movers = motion.p.map((piece) => moverOf(piece, marks));
  const move = (/** @type {number} */ share) => movers.forEach((mover) => mover(share));
  fitMoving(figure.svg, panel, move);
  return move;
}

/**
 * @param {import("./motion.js").Piece} piece
 * @param {SVGElement[]} marks
 * @returns {(share: number) => void}
 */
function moverOf(piece, marks) {
  const own = marks.slice(piece[0], piece[1]);
  if (typeof piece[2] !== "string") {
    const maps = piece[2];
    return (share) => own.forEach((mark) => mark.setAttribute("transform", mapAt(maps, share)));
  }
  const outline = /** @type {number[][]} */ (piece[3]);
  const maps = piece[4];
  const [first, ...rest] = own;
  const ending = first.getAttribute("d") ?? "";
  first.setAttribute("class", piece[2]);
  return (share) => {
    first.setAttribute("d", share >= 1 ? ending : outlineAt(outline, share));
    if (maps) rest.forEach((mark) => mark.setAttribute("transform", mapAt(maps, share)));
  };
}

/**
 * Gives the picture the room that the movement needs; where it is not shown it cannot be measured, and keeps that of the still figure.
 * @param {SVGElement} svg
 * @param {SVGElement} panel
 * @param {(share: number) => void} move
 */
function fitMoving(svg, panel, move) {
  if (!(panel instanceof SVGGraphicsElement)) return;
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const share of [0, 0.25, 0.5, 0.75, 1]) {
    move(share);
    const { x, y, width, height } = panel.getBBox();
    [left, top, right, bottom] = [Math.min(left, x), Math.min(top, y), Math.max(right, x + width), Math.max(bottom, y + height)];
  }
  if (right <= left) return; // nothing is shown: the panel stays where the still figure has it
  panel.removeAttribute("transform");
  const pad = 12;
  svg.setAttribute("viewBox", [left - pad, top - pad, right - left + 2 * pad, bottom - top + 2 * pad].map(Math.round).join(" "));
}
