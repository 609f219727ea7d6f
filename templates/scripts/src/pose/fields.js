/** The fields of the bench: joints, contacts, things and words, as an answer has them. */

/** @typedef {import("./talk.js").Answer} Answer */
/**
 * @typedef {object} Edit
 * @property {string} edit
 * @property {number} [picture]
 * @property {string} [variable]
 * @property {number | null} [degrees]
 * @property {string} [said]
 * @property {boolean} [on]
 * @property {string} [name]
 * @property {string} [key]
 * @property {string | null} [words]
 */
/** @typedef {(edit: Edit, quick: number) => void} Change */

const TOLD = 2; // degrees by which an angle must come out otherwise to be told

/**
 * @template {Element} T
 * @param {ParentNode} place
 * @param {string} found
 * @param {new () => T} kind
 * @returns {T}
 */
function inside(place, found, kind) {
  const one = place.querySelector(found);
  if (!(one instanceof kind)) throw new Error(`there is no ${found}`);
  return one;
}

/** @param {Change} change */
export function listenToJoints(change) {
  for (const row of document.querySelectorAll(".pose")) {
    const variable = row.closest("fieldset")?.dataset["variable"] ?? "";
    const picture = row instanceof HTMLElement ? Number(row.dataset["picture"]) : 1;
    const [range, number] = [inside(row, '[type="range"]', HTMLInputElement), inside(row, '[type="number"]', HTMLInputElement)];
    const set = (/** @type {number} */ degrees, /** @type {number} */ quick) => change({ edit: "angle", picture, variable, degrees }, quick);
    range.addEventListener("input", () => {
      number.value = range.value;
      set(range.valueAsNumber, picture);
    });
    range.addEventListener("change", () => set(range.valueAsNumber, 0));
    number.addEventListener("change", () => {
      if (Number.isFinite(number.valueAsNumber)) set(number.valueAsNumber, 0);
    });
    inside(row, "button", HTMLButtonElement).addEventListener("click", () => {
      number.focus();
      change({ edit: "angle", picture, variable, degrees: null }, 0);
    });
  }
}

/** @param {Answer} answer */
export function showJoints(answer) {
  for (const group of document.querySelectorAll("[data-group]")) {
    let count = 0;
    for (const row of group.querySelectorAll(".pose")) {
      if (!(row instanceof HTMLElement)) continue;
      const variable = row.closest("fieldset")?.dataset["variable"] ?? "";
      const picture = Number(row.dataset["picture"]) - 1;
      const degrees = answer.angles?.[picture]?.[variable];
      const isWritten = variable in (answer.written?.[picture] ?? {});
      row.hidden = picture === 1 && !answer.moves;
      row.classList.toggle("written", isWritten);
      inside(row, "button", HTMLButtonElement).hidden = !isWritten;
      count += isWritten ? 1 : 0;
      const came = answer.came?.[picture]?.[variable];
      const differs = came !== undefined && degrees !== undefined && Math.abs(came - degrees) >= TOLD;
      inside(row, ".came", HTMLElement).textContent = differs ? `comes out at ${came}` : "";
      if (degrees === undefined) continue;
      for (const field of row.querySelectorAll("input")) if (field !== document.activeElement || field.type === "range") field.value = String(Math.round(degrees));
    }
    inside(group, ".count", HTMLElement).textContent = count ? `(${count} written)` : "";
  }
}

/**
 * @param {string} text
 * @param {string} label
 * @param {() => void} done
 */
function chip(text, label, done) {
  const [item, button] = [document.createElement("li"), document.createElement("button")];
  button.type = "button";
  button.textContent = `${text} ×`;
  button.setAttribute("aria-label", label);
  button.addEventListener("click", done);
  item.append(button);
  return item;
}

/** @param {Change} change */
export function listenToContacts(change) {
  for (const place of document.querySelectorAll(".contacts")) {
    const picture = place instanceof HTMLElement ? Number(place.dataset["picture"]) : 1;
    const [part, thing] = [inside(place, ".part", HTMLSelectElement), inside(place, ".thing", HTMLSelectElement)];
    inside(place, ".add", HTMLButtonElement).addEventListener("click", () => change({ edit: "contact", picture, said: `${part.value} ${thing.value}`, on: true }, 0));
  }
}

/**
 * @param {Answer} answer
 * @param {Change} change
 */
export function showContacts(answer, change) {
  let count = 0;
  for (const place of document.querySelectorAll(".contacts")) {
    if (!(place instanceof HTMLElement)) continue;
    const picture = Number(place.dataset["picture"]);
    place.hidden = picture === 2 && !answer.moves;
    const found = answer.contacts?.[picture - 1] ?? [];
    count += picture === 1 || answer.moves ? found.length : 0;
    const add = inside(place, ".add", HTMLButtonElement);
    inside(place, "ul", HTMLUListElement).replaceChildren(
      ...found.map((said) =>
        chip(said, `Take out the contact ${said}, picture ${picture}`, () => {
          add.focus();
          change({ edit: "contact", picture, said, on: false }, 0);
        }),
      ),
    );
    const thing = inside(place, ".thing", HTMLSelectElement);
    const chosen = thing.value;
    if (answer.things) thing.replaceChildren(...answer.things.map((name) => new Option(name)));
    if (answer.things?.includes(chosen)) thing.value = chosen;
  }
  inside(document, "[data-contacts] .count", HTMLElement).textContent = `(${count})`;
}

/** @param {Change} change */
export function listenToProps(change) {
  const [prop, how] = [inside(document, "#prop", HTMLSelectElement), inside(document, "#how", HTMLInputElement)];
  const offer = () => {
    const words = (prop.selectedOptions[0]?.dataset["words"] ?? "").split(" ").filter(Boolean);
    inside(document, "#hows", HTMLDataListElement).replaceChildren(...words.map((word) => new Option(word, word)));
    how.value = words[0] ?? "yes";
  };
  prop.addEventListener("change", offer);
  offer();
  inside(document, "#add-prop", HTMLButtonElement).addEventListener("click", () => change({ edit: "prop", name: prop.value, words: how.value.trim() || "yes" }, 0));
}

/**
 * @param {Answer} answer
 * @param {Change} change
 */
export function showProps(answer, change) {
  const props = Object.entries(answer.props ?? {});
  const add = inside(document, "#add-prop", HTMLButtonElement);
  inside(document, "[data-props] ul", HTMLUListElement).replaceChildren(
    ...props.map(([name, words]) =>
      chip(`${name}: ${words}`, `Take out ${name}`, () => {
        add.focus();
        change({ edit: "prop", name, words: null }, 0);
      }),
    ),
  );
  inside(document, "[data-props] .count", HTMLElement).textContent = props.length ? `(${props.length})` : "";
}

/** @param {Change} change */
export function listenToWords(change) {
  for (const field of document.querySelectorAll("[data-word]")) {
    if (!(field instanceof HTMLInputElement)) continue;
    const key = field.dataset["word"] ?? "";
    field.addEventListener("change", () => change({ edit: "word", key, words: field.value.trim() || null }, 0));
  }
  for (const key of ["base", "view", "mirror"]) {
    const field = inside(document, `#${key}`, HTMLSelectElement);
    field.addEventListener("change", () => change({ edit: "word", key, words: field.value || null }, 0));
  }
  const second = inside(document, "#second", HTMLSelectElement);
  second.addEventListener("change", () => change({ edit: "second", on: second.value === "yes" }, 0));
}

/** @param {Answer} answer */
export function showWords(answer) {
  const words = answer.words ?? {};
  for (const field of document.querySelectorAll("[data-word]")) {
    if (field instanceof HTMLInputElement && field !== document.activeElement) field.value = words[field.dataset["word"] ?? ""] ?? "";
  }
  for (const key of ["base", "view", "mirror"]) {
    const field = inside(document, `#${key}`, HTMLSelectElement);
    const word = words[key] ?? "";
    if (![...field.options].some((option) => option.value === word)) field.add(new Option(word, word));
    field.value = word;
  }
  inside(document, "#second", HTMLSelectElement).value = answer.moves ? "yes" : "";
}
