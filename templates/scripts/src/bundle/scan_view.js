/** The part of the next visit that reads a code with the camera or from a picture; hidden where the browser cannot. */

import { part } from "../page.js";
import { Scanner, findCodeReader, hasCamera, readPicture } from "./scan.js";

/** @typedef {import("./speech.js").Speech} Speech */

/** @type {Scanner | null} */
let scanner = null;

/** Closes the camera where it is open. */
export function stopScan() {
  scanner?.stop();
}

/**
 * Shows the buttons that the browser can serve, and does what they say.
 * @param {Speech} speech
 * @param {{open: (texts: string[]) => void, refuse: (words: string) => void}} told  what was read; what did not work
 */
export async function offerScan(speech, told) {
  const reader = await findCodeReader();
  if (!reader) return;
  offerPicture(reader, speech, told);
  if (hasCamera()) offerCamera(reader, speech, told);
}

/**
 * @param {import("./scan.js").CodeReader} reader
 * @param {Speech} speech
 * @param {{open: (texts: string[]) => void, refuse: (words: string) => void}} told
 */
function offerPicture(reader, speech, told) {
  const button = part("scan-picture", HTMLButtonElement);
  const choice = part("picture", HTMLInputElement);
  button.hidden = false;
  button.addEventListener("click", () => choice.click());
  choice.addEventListener("change", async () => {
    const file = choice.files?.[0];
    if (!file) return;
    const texts = await readPicture(reader, file);
    choice.value = "";
    if (texts.length) told.open(texts);
    else told.refuse(speech.say("clinician.scan_nothing"));
  });
}

/**
 * @param {import("./scan.js").CodeReader} reader
 * @param {Speech} speech
 * @param {{open: (texts: string[]) => void, refuse: (words: string) => void}} told
 */
function offerCamera(reader, speech, told) {
  const button = part("scan", HTMLButtonElement);
  const panel = part("camera", HTMLElement);
  const camera = new Scanner(reader, part("film", HTMLVideoElement), {
    read: (texts) => told.open(texts),
    failed: () => told.refuse(speech.say("clinician.scan_no_camera")),
    closed: () => {
      const focused = panel.contains(document.activeElement);
      panel.hidden = true;
      if (focused) button.focus();
    },
  });
  scanner = camera;
  button.hidden = false;
  button.addEventListener("click", () => {
    camera.start();
    told.refuse("");
    panel.hidden = false;
    part("scan-stop", HTMLButtonElement).focus();
    panel.scrollIntoView({ block: "nearest" });
  });
  part("scan-stop", HTMLButtonElement).addEventListener("click", stopScan);
  panel.addEventListener("keydown", (event) => {
    if (event.key === "Escape") stopScan();
  });
}
