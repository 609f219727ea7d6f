/** A list whose rows are dragged by their pictures; the keys for the same are in each row.  Knows nothing of what a row stands for. */

/**
 * Lets the rows of a list be dragged.
 * @param {HTMLElement} list
 * @param {(row: HTMLElement, place: number) => void} drop  what is done once a row was let go in another place, counted from 0
 */
export function letDrag(list, drop) {
  list.addEventListener("pointerdown", (event) => {
    const handle = event.target instanceof Element ? event.target.closest(".drag") : null;
    const row = handle?.closest("li");
    if (!(handle instanceof HTMLElement) || !row || event.button !== 0) return;
    event.preventDefault();
    row.classList.add("dragged");
    // the window hears of it all: a row that changes its place would lose the pointer
    const order = Array.from(list.children);
    let grip = event.clientY;

    const move = (/** @type {PointerEvent} */ now) => {
      const others = Array.from(list.children).filter((one) => one !== row);
      const next = others.find((one) => now.clientY < one.getBoundingClientRect().top + one.getBoundingClientRect().height / 2);
      if ((next ?? null) !== row.nextElementSibling) {
        const before = row.getBoundingClientRect().top;
        list.insertBefore(row, next ?? null);
        grip += row.getBoundingClientRect().top - before;
      }
      row.style.transform = `translateY(${now.clientY - grip}px)`;
    };
    const end = (/** @type {boolean} */ isDropped) => {
      removeEventListener("pointermove", move);
      removeEventListener("pointerup", release);
      removeEventListener("pointercancel", cancel);
      removeEventListener("keydown", escape, true);
      row.classList.remove("dragged");
      row.style.transform = "";
      const place = Array.from(list.children).indexOf(row);
      if (!isDropped) list.replaceChildren(...order);
      else if (order[place] !== row) drop(row, place);
    };
    const release = () => end(true);
    const cancel = () => end(false);
    const escape = (/** @type {KeyboardEvent} */ pressed) => {
      if (pressed.key === "Escape") end(false);
    };
    addEventListener("pointermove", move);
    addEventListener("pointerup", release);
    addEventListener("pointercancel", cancel);
    addEventListener("keydown", escape, true);
  });
}

/**
 * Rows that stand in another place than before glide there, where motion is not reduced.
 * @param {HTMLElement} list
 * @param {() => void} change  puts the rows in their new places; a row keeps its id
 */
export function glide(list, change) {
  const before = new Map(Array.from(list.children, (row) => [row.id, row.getBoundingClientRect().top]));
  change();
  if (matchMedia("(prefers-reduced-motion: reduce)").matches) return;
  for (const row of list.children) {
    const way = (before.get(row.id) ?? NaN) - row.getBoundingClientRect().top;
    if (Math.abs(way) > 1) row.animate([{ transform: `translateY(${way}px)` }, { transform: "none" }], { duration: 180, easing: "ease-out" });
  }
}
