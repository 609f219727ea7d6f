/** What is handed over beside exercises: the list, and the choice of what can be added; what is done is told to `main.js`. */

import { most_given as MOST_GIVEN } from "../../../../handouts/bundle/code.json";
import { part } from "../page.js";
import { make, makeButton } from "./dom.js";

/**
 * @param {import("./draft.js").Draft} draft
 * @param {import("./book.js").Book} book
 * @param {import("./speech.js").Speech} speech
 * @param {(code: string, isGiven: boolean) => void} give
 */
export function showGiven({ bundle }, book, speech, give) {
  const given = bundle.given ?? [];
  const free = Object.keys(book.handed).filter((code) => !given.includes(code));
  part("given-part", HTMLElement).hidden = !bundle.picks.length || !(given.length + free.length);
  part("given", HTMLUListElement).replaceChildren(...given.map((code) => {
    const [title, href] = book.handed[code];
    const act = speech.say("clinician.take_out");
    const out = makeButton(act, () => give(code, false), { class: "quiet", id: `given-out-${code}`, "aria-label": speech.say("clinician.acts_on", { act, exercise: title }) });
    return make("li", {}, [make("a", { href }, [title]), " ", out]);
  }));
  const choice = part("given-add", HTMLSelectElement);
  const option = (/** @type {string} */ value, /** @type {string} */ text) => make("option", { value }, [text]);
  choice.replaceChildren(option("", speech.say("clinician.given_add")), ...free.map((code) => option(code, book.handed[code][0])));
  choice.hidden = !free.length || given.length >= MOST_GIVEN;
  choice.onchange = () => choice.value && give(choice.value, true);
}
