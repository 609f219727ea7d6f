/**
 * The sheet beside the list, where there is room: its first page as it prints, drawn anew after each change; and all its pages over the list.  The
 * sheet is the page that prints it, in a frame that tells how many pages there are.
 */

import { part } from "../page.js";
import { make } from "./dom.js";

/** There is room beside the list from this width on; bundle.css has the same. */
const WIDE = "(min-width: 62em)";
/** Milliseconds without a further change before the sheet is drawn anew. */
const PAUSE = 250;

/** @type {HTMLIFrameElement | null} */
let shown = null;
/** @type {HTMLIFrameElement | null} */
let coming = null;
let wanted = "";
/** @type {number | undefined} */
let waiting;

/**
 * @param {string} address
 * @returns {HTMLIFrameElement}
 */
function makeFrame(address) {
  return /** @type {HTMLIFrameElement} */ (make("iframe", { src: `${address}&frame`, title: part("live", HTMLElement).getAttribute("aria-label") ?? "" }));
}

/** Draws the sheet that is wanted, behind the one that is shown until it is ready. */
function drawWanted() {
  coming?.remove();
  coming = makeFrame(wanted);
  coming.inert = true; // a picture of the sheet: it is read in the dialog or where it is printed
  coming.className = "coming";
  part("live-page", HTMLElement).append(coming);
}

/** Takes the page as wide as there is room. */
function fitPage() {
  const page = part("live-page", HTMLElement);
  const [width, height] = (page.dataset.size ?? "").split(" ").map(Number);
  if (!width || !height) return;
  page.style.setProperty("--page-width", `${width}px`);
  page.style.setProperty("--page-height", `${height}px`);
  page.style.aspectRatio = `${width} / ${height}`;
  page.style.setProperty("--scale", String(page.clientWidth / width));
}

/**
 * Shows a sheet, or none; where there is no room beside the list its pages are loaded only to be seen over it.
 * @param {string} address  empty where nothing can be printed
 */
export function showLive(address) {
  const hasRoom = address !== "" && matchMedia(WIDE).matches;
  part("live", HTMLElement).hidden = address === "";
  part("live-page", HTMLElement).hidden = !hasRoom;
  if (!hasRoom) {
    clearTimeout(waiting);
    shown?.remove();
    coming?.remove();
    shown = coming = null;
    wanted = address;
    return;
  }
  if (address === wanted && (shown || coming || waiting)) return;
  wanted = address;
  clearTimeout(waiting);
  waiting = setTimeout(drawWanted, shown || coming ? PAUSE : 0);
}

/** Shows all pages over the list; Escape or the button lead back to where one was. */
export function showWhole() {
  if (!wanted) return;
  const dialog = part("whole", HTMLDialogElement);
  part("whole-pages", HTMLElement).replaceChildren(makeFrame(wanted));
  dialog.addEventListener("close", () => part("whole-pages", HTMLElement).replaceChildren(), { once: true });
  dialog.showModal();
}

/** @param {(pages: number) => void} told  takes the number of pages of the sheet that is shown */
export function watchLive(told) {
  new ResizeObserver(fitPage).observe(part("live-page", HTMLElement));
  addEventListener("message", ({ source, data }) => {
    if (!coming || source !== coming.contentWindow || data?.kind !== "sheet") return;
    shown?.remove();
    shown = coming;
    coming = null;
    shown.className = "";
    part("live-page", HTMLElement).dataset.size = `${Number(data.width)} ${Number(data.height)}`;
    fitPage();
    told(Number(data.pages));
  });
  part("whole-close", HTMLButtonElement).addEventListener("click", () => part("whole", HTMLDialogElement).close());
  part("live-open", HTMLButtonElement).addEventListener("click", showWhole);
}
