/**
 * The figure of the exercise under way: it moves with the counter while a set is counted, at the tempo of the dose, and is
 * still between sets.  Where less motion is wanted it moves only when it is asked for; a tap stops it for the session.
 */

import { drawFigure, makeMover } from "./figure.js";
import { SHOWN_BEAT, shareAt } from "./motion.js";

export class SessionFigure {
  /**
   * @param {HTMLElement} place
   * @param {HTMLButtonElement} button
   * @param {import("./more.js").MyPage} page
   */
  constructor(place, button, page) {
    this.place = place;
    this.button = button;
    this.page = page;
    this.words = "";
    this.mirroredWords = "";
    this.mirrored = false;
    this.wanted = "";
    /** @type {boolean | null} what was asked for; null for nothing yet */
    this.asked = null;
    this.moving = false;
    /** @type {{picture: import("./figure.js").Tree, motion: import("./motion.js").Motion | null} | null} */
    this.data = null;
    /** @type {((share: number) => void) | null} */
    this.mover = null;
    /** @type {(() => number) | null} where the session is in the movement; null where it is in none */
    this.share = null;
    this.beat = SHOWN_BEAT;
    this.frame = 0;
    this.calm = matchMedia("(prefers-reduced-motion: reduce)");
    button.onclick = () => {
      this.asked = !this.moving;
      this.settle();
    };
    // A figure that was drawn out of sight has the room of the still one: it is drawn again once there is something to measure.
    this.drawnUnseen = false;
    new ResizeObserver(() => {
      if (this.drawnUnseen && this.place.offsetWidth) this.draw();
    }).observe(place);
    this.settle();
  }

  /** @param {string} code */
  async show(code) {
    this.data = null;
    this.wanted = code;
    this.draw();
    const data = await this.page.loadFigure(code);
    if (code !== this.wanted) return;
    this.data = data;
    this.draw();
  }

  /**
   * @param {string} words what the figure shows
   * @param {string} [mirroredWords] what it shows mirrored
   */
  describe(words, mirroredWords = words) {
    this.words = words;
    this.mirroredWords = mirroredWords;
    this.place.firstElementChild?.setAttribute("aria-label", this.shown());
  }

  /** @returns {string} */
  shown() {
    return this.mirrored ? this.mirroredWords : this.words;
  }

  draw() {
    cancelAnimationFrame(this.frame);
    this.mover = null;
    this.drawnUnseen = !this.place.offsetWidth;
    this.place.replaceChildren();
    this.button.hidden = !this.data?.motion;
    if (!this.data) return;
    const figure = drawFigure(this.data.picture, this.shown());
    this.place.append(figure.svg);
    if (this.moving) this.mover = makeMover(figure, this.data.motion);
    if (this.mover) this.frame = requestAnimationFrame((now) => this.play(now));
  }

  /** Moves or stands still, as was asked for or as the session is. */
  settle() {
    const moving = this.asked ?? (this.share !== null && !this.calm.matches);
    this.button.textContent = this.page.speech.say(moving ? "phone.stop_movement" : "phone.show_movement");
    if (moving === this.moving) return;
    this.moving = moving;
    this.draw();
  }

  /** @param {number} now milliseconds */
  play(now) {
    const whole = this.beat.reduce((sum, part) => sum + part, 0);
    const share = this.share?.() ?? shareAt(this.beat, (now / 1000) % whole);
    // With reduced motion the two positions follow one another, without the way between them.
    this.mover?.(this.calm.matches ? Math.round(share) : share);
    this.frame = requestAnimationFrame((later) => this.play(later));
  }

  /**
   * @param {(() => number) | null} share
   * @param {import("./plan.js").Step} step
   */
  follow(share, step) {
    this.share = share;
    this.settle();
    this.beat = step.beat[0] + step.beat[2] > 0 ? step.beat : SHOWN_BEAT;
  }

  /** @param {boolean} mirrored shows the exercise for the other side */
  mirror(mirrored) {
    this.mirrored = mirrored;
    this.place.classList.toggle("mirrored", mirrored);
    this.place.firstElementChild?.setAttribute("aria-label", this.shown());
  }

  stop() {
    this.asked = null;
    this.share = null;
    this.settle();
  }
}
