/** Asking the preview what comes out: one request at a time, of what is dragged only the newest. */

/** @typedef {Record<string, number>} Angles */
/** @typedef {{ grade: string, text: string }} Said */
/**
 * @typedef {object} Answer
 * @property {string} text
 * @property {string} [refused]
 * @property {Angles[]} [written]
 * @property {Angles[]} [angles]
 * @property {boolean} [moves]
 * @property {string[][]} [contacts]
 * @property {string[]} [things]
 * @property {Record<string, string>} [props]
 * @property {Record<string, string>} [words]
 * @property {string} [svg]
 * @property {string} [alt]
 * @property {number[]} [size]
 * @property {number[][]} [origins]
 * @property {Record<string, number[]>[]} [handles]
 * @property {Angles[]} [came]
 * @property {Said[]} [problems]
 * @property {number} [picture]
 * @property {string} [panel]
 * @property {string} [saved]
 */
/**
 * @typedef {object} Asked
 * @property {() => object} body made when it is sent, so that it holds the newest text
 * @property {boolean} quick whether a newer one may take its place
 * @property {(answer: Answer) => void} then
 */

export class Talk {
  /**
   * @param {string} address
   * @param {(said: string) => void} lost
   */
  constructor(address, lost) {
    this.address = address;
    this.lost = lost;
    /** @type {Asked[]} */
    this.waiting = [];
    this.busy = false;
  }

  /** @param {Asked} asked */
  ask(asked) {
    this.waiting = this.waiting.filter((one) => !one.quick);
    this.waiting.push(asked);
    if (!this.busy) void this.next();
  }

  async next() {
    const asked = this.waiting.shift();
    if (!asked) return;
    this.busy = true;
    try {
      const options = { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(asked.body()) };
      const answer = await fetch(this.address, options);
      asked.then(await answer.json());
    } catch {
      this.lost("The preview does not answer. Start it again; your text is still here.");
    } finally {
      this.busy = false;
    }
    void this.next();
  }
}
