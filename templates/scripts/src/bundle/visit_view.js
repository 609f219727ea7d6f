/** Shows what a log says that a patient shows at the clinic, each proposal with a button that takes it over; keeps nothing. */

import { part } from "../page.js";
import { make, makeButton } from "./dom.js";
import { proposals, sayProposal, sayVisit } from "./visit.js";

/**
 * @param {import("./log_code.js").Visit | null} visit  null takes away what was shown
 * @param {import("./book.js").Book} book
 * @param {import("./speech.js").Speech} speech
 * @param {(proposal: import("./visit.js").Proposal) => void} use
 */
export function showVisit(visit, book, speech, use) {
  part("visit", HTMLElement).hidden = !visit;
  const found = visit ? proposals(visit, book) : [];
  const offers = new Map(found.map((one) => [`- ${visit ? sayProposal(one, visit, book, speech) : ""}`, one]));
  const act = speech.say("clinician.visit_use");
  const rows = (visit ? sayVisit(visit, book, speech) : []).map((line) => {
    const offer = offers.get(line);
    const words = line.replace(/^- /, "");
    if (!offer || (offer.kind !== "more" && !offer.target)) return make("li", {}, [words]);
    const name = speech.say("clinician.acts_on", { act, exercise: book.exercises[offer.code].title });
    return make("li", {}, [words, " ", makeButton(act, () => use(offer), { class: "quiet", id: `use-${offer.code}`, "aria-label": name })]);
  });
  part("visit-lines", HTMLUListElement).replaceChildren(...rows);
}
