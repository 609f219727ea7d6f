/** The picture and its marks: what can be dragged, by pointer or by keys. */

/** @typedef {import("./talk.js").Answer} Answer */
/** @typedef {{ picture: number, point: string, x: number, y: number }} Drag */

const STEP = 10; // drawing units: 2 cm of the body
const FINE = 2;
const NAMES = { r: "Right", l: "Left" };

/** @param {string} point */
export function pointName(point) {
  const [name, side] = point.split(".");
  return side === "r" || side === "l" ? `${NAMES[side]} ${name}` : "Head";
}

/** @param {string} text */
function parsed(text) {
  return new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
}

export class Picture {
  /**
   * @param {HTMLElement} place
   * @param {(drag: Drag, ended: boolean) => void} dragged
   */
  constructor(place, dragged) {
    this.place = place;
    this.dragged = dragged;
    /** @type {SVGSVGElement | null} */
    this.svg = null;
    /** @type {number[][]} */
    this.origins = [];
    /** @type {Record<string, number[]>[]} */
    this.handles = [];
    /** @type {Map<string, HTMLButtonElement>} */
    this.marks = new Map();
    this.held = "";
    new ResizeObserver(() => this.set()).observe(place);
  }

  /** @param {Answer} answer a whole one, with its drawing */
  show(answer) {
    const drawing = parsed(answer.svg ?? "");
    if (!(drawing instanceof SVGSVGElement)) return;
    this.svg?.remove();
    this.svg = document.adoptNode(drawing);
    this.place.prepend(this.svg);
    this.origins = answer.origins ?? [];
    this.handles = answer.handles ?? [];
    const wanted = new Set(this.handles.flatMap((places, number) => Object.keys(places).map((point) => `${point} ${number + 1}`)));
    for (const [key, mark] of this.marks) {
      if (wanted.has(key)) continue;
      mark.remove();
      this.marks.delete(key);
    }
    for (const key of wanted) if (!this.marks.has(key)) this.marks.set(key, this.mark(key));
    this.set();
  }

  /** @param {Answer} answer a quick one, with one picture */
  sketch(answer) {
    const origin = this.origins[(answer.picture ?? 1) - 1];
    const where = origin ? `translate(${origin[0]} ${origin[1]})` : "";
    const group = [...(this.svg?.children ?? [])].find((one) => one.getAttribute("transform")?.startsWith(where));
    if (!where || !group || !answer.panel) return;
    const paths = parsed(`<svg xmlns="http://www.w3.org/2000/svg">${answer.panel}</svg>`);
    group.replaceChildren(...document.adoptNode(paths).children);
    const places = answer.handles?.[0];
    if (places) this.handles[(answer.picture ?? 1) - 1] = places;
    this.set();
  }

  /** Sets each mark where its point is. */
  set() {
    const matrix = this.svg?.getScreenCTM();
    if (!matrix) return;
    const box = this.place.getBoundingClientRect();
    for (const [key, mark] of this.marks) {
      const place = this.placeOf(key);
      if (!place || key === this.held) continue;
      const at = new DOMPoint(place[0], place[1]).matrixTransform(matrix);
      mark.style.zIndex = String(1000 + Math.round(place[2] ?? 0)); // the nearer one is taken
      mark.style.left = `${at.x - box.left - this.place.clientLeft}px`;
      mark.style.top = `${at.y - box.top - this.place.clientTop}px`;
    }
  }

  /** @param {string} key */
  placeOf(key) {
    const [point = "", number = "1"] = key.split(" ");
    const [origin, at] = [this.origins[Number(number) - 1], this.handles[Number(number) - 1]?.[point]];
    if (!origin || !at) return null;
    return [(origin[0] ?? 0) + (at[0] ?? 0), (origin[1] ?? 0) + (at[1] ?? 0), at[2] ?? 0];
  }

  /**
   * @param {string} key
   * @param {number} x
   * @param {number} y
   * @returns {Drag}
   */
  dragTo(key, x, y) {
    const [point = "", number = "1"] = key.split(" ");
    const origin = this.origins[Number(number) - 1] ?? [0, 0];
    return { picture: Number(number), point, x: x - (origin[0] ?? 0), y: y - (origin[1] ?? 0) };
  }

  /** @param {string} key */
  mark(key) {
    const mark = document.createElement("button");
    const [point = "", number = ""] = key.split(" ");
    mark.type = "button";
    mark.className = "mark";
    mark.dataset["mark"] = key;
    mark.setAttribute("aria-label", `${pointName(point)}, picture ${number}: push with the arrow keys`);
    mark.title = `${pointName(point)}, picture ${number}`;
    mark.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      event.preventDefault();
      mark.focus({ preventScroll: true });
      mark.setPointerCapture(event.pointerId);
      mark.classList.add("held");
      this.place.classList.add("moving");
      this.held = key;
    });
    mark.addEventListener("pointermove", (event) => this.moved(mark, key, event, false));
    mark.addEventListener("pointerup", (event) => this.moved(mark, key, event, true));
    mark.addEventListener("pointercancel", () => this.release(mark));
    mark.addEventListener("keydown", (event) => this.pushed(key, event));
    this.place.append(mark);
    return mark;
  }

  /** @param {HTMLButtonElement} mark */
  release(mark) {
    mark.classList.remove("held");
    this.place.classList.remove("moving");
    this.held = "";
    this.set();
  }

  /**
   * @param {HTMLButtonElement} mark
   * @param {string} key
   * @param {PointerEvent} event
   * @param {boolean} ended
   */
  moved(mark, key, event, ended) {
    const matrix = this.svg?.getScreenCTM();
    if (this.held !== key || !matrix) return;
    const box = this.place.getBoundingClientRect();
    mark.style.left = `${event.clientX - box.left - this.place.clientLeft}px`;
    mark.style.top = `${event.clientY - box.top - this.place.clientTop}px`;
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    this.dragged(this.dragTo(key, at.x, at.y), ended);
    if (ended) this.release(mark);
  }

  /**
   * @param {string} key
   * @param {KeyboardEvent} event
   */
  pushed(key, event) {
    /** @type {Record<string, number[]>} */
    const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    const [way, place] = [ways[event.key], this.placeOf(key)];
    if (!way || !place) return;
    event.preventDefault();
    const step = event.shiftKey ? FINE : STEP;
    this.dragged(this.dragTo(key, (place[0] ?? 0) + (way[0] ?? 0) * step, (place[1] ?? 0) + (way[1] ?? 0) * step), true);
  }
}
