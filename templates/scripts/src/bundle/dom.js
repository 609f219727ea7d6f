/** Making elements without markup in strings: every text stays text. */

/**
 * @param {string} name
 * @param {Record<string, string>} [attributes]
 * @param {(Node | string)[]} [children]
 * @returns {HTMLElement}
 */
export function make(name, attributes = {}, children = []) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.append(...children);
  return element;
}

/**
 * @param {string} text
 * @param {() => void} act
 * @param {Record<string, string>} [attributes]
 * @returns {HTMLElement}
 */
export function makeButton(text, act, attributes = {}) {
  const button = make("button", { type: "button", ...attributes }, [text]);
  button.addEventListener("click", act);
  return button;
}

/**
 * A choice inside a sentence.
 * @param {{value: string, text: string}[]} options
 * @param {string} value
 * @param {(value: string) => void} changed
 * @param {Record<string, string>} attributes
 * @returns {HTMLSelectElement}
 */
export function makeSelect(options, value, changed, attributes) {
  const select = /** @type {HTMLSelectElement} */ (make("select", attributes));
  for (const option of options) select.append(make("option", { value: option.value }, [option.text]));
  select.value = value;
  select.addEventListener("change", () => changed(select.value));
  return select;
}

/**
 * Dark modules as an SVG picture with a quiet zone of 4 modules.
 * @param {boolean[][]} modules
 * @param {string} title
 * @returns {SVGElement}
 */
export function makeQrPicture(modules, title) {
  const space = "http://www.w3.org/2000/svg";
  const side = modules.length + 8;
  const svg = /** @type {SVGElement} */ (document.createElementNS(space, "svg"));
  svg.setAttribute("viewBox", `0 0 ${side} ${side}`);
  svg.setAttribute("class", "qr");
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-label", title);
  const path = document.createElementNS(space, "path");
  path.setAttribute("d", modules.map((row, y) => row.map((dark, x) => (dark ? `M${x + 4} ${y + 4}h1v1h-1z` : "")).join("")).join(""));
  svg.append(path);
  return svg;
}
