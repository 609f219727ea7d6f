/** The picture and its marks: what can be dragged, by pointer or by keys. */

/** @typedef {import("./talk.js").Answer} Answer */
/** @typedef {{ picture: number, point: string, x: number, y: number }} Drag */

const STEP = 10; // drawing units: 2 cm of the body
const FINE = 2;
const AIR = 0.08; // room round the drawing, its share: a drag that needs no more leaves the frame as it is
const REACH = 18; // pixels from a mark at which a mouse takes it
const REACH_OF_A_FINGER = 30;
const NAMES = { r: "Right", l: "Left" };

/** @param {string} point */
export function pointName(point) {
  const [name, side] = point.split(".");
  return side === "r" || side === "l" ? `${NAMES[side]} ${name}` : "Head";
}

/** @param {string} key */
function markName(key) {
  const [point = "", number = ""] = key.split(" ");
  return `${pointName(point)}, picture ${number}`;
}

/** @param {string} text */
function parsed(text) {
  return new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
}

export class Picture {
  /**
   * @param {HTMLElement} place
   * @param {HTMLSelectElement} list
   * @param {(drag: Drag, ended: boolean) => void} dragged
   */
  constructor(place, list, dragged) {
    this.place = place;
    this.list = list;
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
    /** The mark that the list names: it goes with a drag that begins anywhere. */
    this.chosen = "";
    /** From the pointer to what is dragged, drawing units. */
    this.grip = [0, 0];
    /** The part of the drawing that is shown, and the picture that was dragged: it stays where it is as the drawing follows. */
    this.view = [0, 0, 0, 0];
    this.dragging = 0;
    list.addEventListener("change", () => this.choose(list.value));
    place.addEventListener("pointerdown", (event) => this.grab(event));
    place.addEventListener("pointermove", (event) => this.moved(event, false));
    place.addEventListener("pointerup", (event) => this.moved(event, true));
    place.addEventListener("pointercancel", () => this.release());
    new ResizeObserver(() => this.set()).observe(place);
  }

  /** @param {Answer} answer a whole one, with its drawing */
  show(answer) {
    const drawing = parsed(answer.svg ?? "");
    if (!(drawing instanceof SVGSVGElement)) return;
    this.svg?.remove();
    this.svg = document.adoptNode(drawing);
    this.place.prepend(this.svg);
    this.keepInPlace(answer);
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
    this.listed([...wanted]);
  }

  /**
   * The marks as a list to choose from, where they lie too near each other.
   * @param {string[]} keys
   */
  listed(keys) {
    const known = [...this.list.options].slice(1).map((option) => option.value);
    if (known.join() === keys.join()) return;
    this.list.replaceChildren(new Option(this.list.options[0]?.text ?? "", ""), ...keys.map((key) => new Option(markName(key), key)));
    this.choose(keys.includes(this.chosen) ? this.chosen : "");
  }

  /** @param {string} key */
  choose(key) {
    this.chosen = key;
    this.list.value = key;
    this.place.classList.toggle("choosing", key !== "");
    for (const [one, mark] of this.marks) mark.classList.toggle("chosen", one === key);
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

  /**
   * After a drag the picture that was dragged stands where it stood, and the frame only grows: nothing jumps under the pointer.
   * @param {Answer} answer
   */
  keepInPlace(answer) {
    const [width = 0, height = 0] = answer.size ?? [];
    const number = this.dragging - 1;
    const [before, after] = [this.origins[number], answer.origins?.[number]];
    this.dragging = 0;
    const [aside, above] = [width * AIR, height * AIR];
    let [x, y, right, bottom] = [-aside, -above, width + aside, height + above];
    if (before && after && this.view[2]) {
      const [left = 0, top = 0, wide = 0, high = 0] = this.view;
      const [dx, dy] = [(after[0] ?? 0) - (before[0] ?? 0), (after[1] ?? 0) - (before[1] ?? 0)];
      const [ends, foot] = [left + dx + wide, top + dy + high];
      [x, y] = [left + dx <= 0 ? left + dx : x, top + dy <= 0 ? top + dy : y];
      [right, bottom] = [ends >= width ? ends : right, foot >= height ? foot : bottom];
    }
    this.view = [x, y, right - x, bottom - y];
    this.svg?.setAttribute("viewBox", this.view.join(" "));
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
    mark.type = "button";
    mark.className = "mark";
    mark.dataset["mark"] = key;
    mark.setAttribute("aria-label", `${markName(key)}: push with the arrow keys`);
    mark.title = markName(key);
    mark.addEventListener("keydown", (event) => this.pushed(key, event));
    this.place.append(mark);
    return mark;
  }

  /**
   * The mark that a pointer means: the one of the list, else the nearest within reach; of two in one place the nearer to the viewer.
   * @param {PointerEvent} event
   */
  meant(event) {
    if (this.chosen && this.marks.has(this.chosen)) return this.chosen;
    let [found, least] = ["", event.pointerType === "mouse" ? REACH : REACH_OF_A_FINGER];
    for (const [key, mark] of [...this.marks].sort((one, two) => Number(two[1].style.zIndex) - Number(one[1].style.zIndex))) {
      const box = mark.getBoundingClientRect();
      const away = Math.hypot(event.clientX - box.left - box.width / 2, event.clientY - box.top - box.height / 2);
      if (away < least - 1) [found, least] = [key, away];
    }
    return found;
  }

  /**
   * Where a pointer is, drawing units.
   * @param {PointerEvent} event
   */
  at(event) {
    const matrix = this.svg?.getScreenCTM();
    return matrix ? new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse()) : null;
  }

  /** @param {PointerEvent} event */
  grab(event) {
    const key = event.button === 0 && event.isPrimary ? this.meant(event) : "";
    const [mark, place, at] = [this.marks.get(key), this.placeOf(key), this.at(event)];
    if (!mark || !place || !at) return;
    event.preventDefault();
    mark.focus({ preventScroll: true });
    this.place.setPointerCapture(event.pointerId);
    mark.classList.add("held");
    this.place.classList.add("moving");
    this.held = key;
    this.grip = [(place[0] ?? 0) - at.x, (place[1] ?? 0) - at.y];
  }

  release() {
    this.marks.get(this.held)?.classList.remove("held");
    this.place.classList.remove("moving");
    this.held = "";
    this.set();
  }

  /**
   * @param {PointerEvent} event
   * @param {boolean} ended
   */
  moved(event, ended) {
    const [mark, at, matrix] = [this.marks.get(this.held), this.at(event), this.svg?.getScreenCTM()];
    if (!mark || !at || !matrix) return;
    const [x, y] = [at.x + (this.grip[0] ?? 0), at.y + (this.grip[1] ?? 0)];
    const [shown, box] = [new DOMPoint(x, y).matrixTransform(matrix), this.place.getBoundingClientRect()];
    mark.style.left = `${shown.x - box.left - this.place.clientLeft}px`;
    mark.style.top = `${shown.y - box.top - this.place.clientTop}px`;
    const drag = this.dragTo(this.held, x, y);
    this.dragging = drag.picture;
    this.dragged(drag, ended);
    if (ended) this.release();
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
    this.dragging = Number(key.split(" ")[1]);
    const step = event.shiftKey ? FINE : STEP;
    this.dragged(this.dragTo(key, (place[0] ?? 0) + (way[0] ?? 0) * step, (place[1] ?? 0) + (way[1] ?? 0) * step), true);
  }
}
