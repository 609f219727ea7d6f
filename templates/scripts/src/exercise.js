/** The figure of an exercise page moves at the tempo of the dose while the reader asks for it, never by itself. */

import { makeMover } from "./phone/figure.js";
import { SHOWN_BEAT, shareAt } from "./phone/motion.js";

/** @typedef {import("./phone/motion.js").Motion} Motion */

/**
 * @param {HTMLButtonElement} button
 * @param {SVGElement} still the figure as the page has it
 * @param {Motion} motion
 * @param {number[]} beat seconds there, held, back, paused
 */
function letMove(button, still, motion, beat) {
  const calm = matchMedia("(prefers-reduced-motion: reduce)");
  const whole = beat.reduce((sum, part) => sum + part, 0);
  /** @type {SVGElement | null} */
  let shown = null;
  let frame = 0;

  function stop() {
    cancelAnimationFrame(frame);
    shown?.replaceWith(still);
    shown = null;
  }

  function start() {
    const svg = /** @type {SVGElement} */ (still.cloneNode(true));
    const panels = /** @type {SVGElement[]} */ (
      Array.from(svg.children).filter((child) => child.tagName === "g" && !child.querySelector("circle.r"))
    );
    still.replaceWith(svg);
    shown = svg;
    const move = makeMover({ svg, panels }, motion);
    const began = performance.now();
    const play = (/** @type {number} */ now) => {
      const share = shareAt(beat, (Math.max(0, now - began) / 1000) % whole);
      // With reduced motion the two positions follow one another, without the way between them.
      move?.(calm.matches ? Math.round(share) : share);
      frame = requestAnimationFrame(play);
    };
    frame = requestAnimationFrame(play);
  }

  button.addEventListener("click", () => {
    const moving = shown === null;
    if (moving) start();
    else stop();
    button.textContent = (moving ? button.dataset.stop : button.dataset.show) ?? "";
  });
  button.hidden = false;
}

const button = document.querySelector("button.move");
const still = document.querySelector(".exercise .figure svg");
const data = document.getElementById("movement");
if (button instanceof HTMLButtonElement && still instanceof SVGElement && data) {
  const beat = (button.dataset.beat ?? "").split(" ").map(Number);
  letMove(button, still, JSON.parse(data.textContent ?? ""), beat.length === 4 ? beat : SHOWN_BEAT);
}
