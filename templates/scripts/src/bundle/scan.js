/**
 * Reads a QR code with the camera or from a picture, where the browser can do both by itself.
 *
 * No picture is drawn, kept or sent: the browser's own reader looks at the film.  The camera is off as soon as a code
 * was read, the reader gave up, the panel was closed, or the page was left or hidden.
 */

/** @typedef {{detect(source: ImageBitmapSource): Promise<{rawValue: string}[]>}} CodeReader  W3C Shape Detection API */

const QR = "qr_code";
const PAUSE_MS = 150;
const CAMERA = { audio: false, video: { facingMode: "environment", width: { ideal: 1280 } } };

/** @returns {Promise<CodeReader | null>} the browser's reader of QR codes; null where it has none */
export async function findCodeReader() {
  const { BarcodeDetector: Maker } = /** @type {any} */ (globalThis);
  try {
    return (await Maker?.getSupportedFormats())?.includes(QR) ? new Maker({ formats: [QR] }) : null;
  } catch {
    return null;
  }
}

/** @returns {boolean} whether the page may ask for a camera */
export function hasCamera() {
  return isSecureContext && navigator.mediaDevices?.getUserMedia !== undefined;
}

/**
 * The texts of the codes in a picture file; none where it is no picture.
 * @param {CodeReader} reader
 * @param {Blob} file
 * @returns {Promise<string[]>}
 */
export async function readPicture(reader, file) {
  try {
    const picture = await createImageBitmap(file);
    try {
      return await readTexts(reader, picture);
    } finally {
      picture.close();
    }
  } catch {
    return [];
  }
}

/**
 * @param {CodeReader} reader
 * @param {ImageBitmapSource} source
 * @returns {Promise<string[]>}
 */
async function readTexts(reader, source) {
  return (await reader.detect(source)).map(({ rawValue }) => rawValue).filter(Boolean);
}

/** A camera that looks for a code, once. */
export class Scanner {
  /**
   * @param {CodeReader} reader
   * @param {HTMLVideoElement} film  shows what the camera sees
   * @param {{read: (texts: string[]) => void, failed: () => void, closed: () => void}} told  ``closed`` comes first,
   *   and whenever the camera is off again
   */
  constructor(reader, film, told) {
    this.reader = reader;
    this.film = film;
    this.told = told;
    /** @type {MediaStream | null} */
    this.stream = null;
    /** Counts starts and stops: what began under another number is over. */
    this.turn = 0;
    addEventListener("pagehide", () => this.stop());
    document.addEventListener("visibilitychange", () => {
      if (document.hidden) this.stop();
    });
  }

  /** Asks for the camera, and looks until a code is found. */
  async start() {
    this.stop();
    const turn = this.turn;
    /** @type {string[]} */
    let texts = [];
    try {
      const stream = await navigator.mediaDevices.getUserMedia(CAMERA);
      if (turn !== this.turn) {
        turnOff(stream);
        return;
      }
      this.stream = stream;
      for (const track of stream.getVideoTracks()) track.addEventListener("ended", () => this.fail(turn));
      this.film.srcObject = stream;
      await this.film.play();
      texts = await this.look(turn);
    } catch {
      this.fail(turn);
    }
    if (turn !== this.turn) return;
    this.stop();
    this.told.read(texts);
  }

  /**
   * @param {number} turn
   * @returns {Promise<string[]>} what was read; none where the camera was switched off before
   */
  async look(turn) {
    while (turn === this.turn) {
      const texts = this.film.readyState >= HTMLMediaElement.HAVE_CURRENT_DATA ? await readTexts(this.reader, this.film) : [];
      if (texts.length) return texts;
      await new Promise((resolve) => setTimeout(resolve, PAUSE_MS));
    }
    return [];
  }

  /** @param {number} turn */
  fail(turn) {
    if (turn !== this.turn) return;
    this.stop();
    this.told.failed();
  }

  /** Switches the camera off, and forgets one that was asked for. */
  stop() {
    this.turn += 1;
    if (this.stream) turnOff(this.stream);
    this.stream = null;
    this.film.srcObject = null;
    this.told.closed();
  }
}

/** @param {MediaStream} stream */
function turnOff(stream) {
  for (const track of stream.getTracks()) track.stop();
}
