/** The list: how long, what to fetch, when to stop, and each exercise with its figure, its dose and how to do it. */

import { make, makeButton } from "../bundle/dom.js";
import { aboutMinutes, doseLine, doseNames, effortScaleLine, frequencyLine, isByOccasion, joinDoseParts, turnLine } from "../bundle/dose_words.js";
import { turnDose } from "../bundle/parts.js";
import { sessionSeconds } from "../bundle/sums.js";
import { part } from "../page.js";
import { lessUpTo, stopRules } from "./book.js";
import { makeStops, titleOf } from "./stops.js";

/** @typedef {import("../bundle/speech.js").Speech} Speech */
/** @typedef {import("./book.js").MyBook} MyBook */
/** @typedef {import("./book.js").MyList} MyList */

/**
 * @param {MyList} list
 * @param {MyBook} book
 * @param {Speech} speech
 * @param {(code: string) => boolean} isHurting whether an exercise is to be left out until the clinic was called
 * @param {(code: string, details: HTMLDetailsElement) => void} opened somebody wants to know how to do an exercise
 */
export function showList(list, book, speech, isHurting, opened) {
  const codes = list.picks.map(({ code }) => code);
  const seconds = sessionSeconds(list.picks.map(({ code, dose }) => ({ dose, position: book.exercises[code].position })), book.policy);
  part("start", HTMLElement).hidden = list.picks.every(({ dose }) => isByOccasion(dose));
  const facts = [speech.count("site.exercises", codes.length), seconds ? aboutMinutes(seconds, speech) : "", list.weeks ? speech.count("phone.for_weeks", list.weeks) : ""];
  part("summary", HTMLUListElement).replaceChildren(...facts.filter(Boolean).map((fact) => make("li", {}, [fact])));
  const things = [...new Set(codes.flatMap((code) => book.exercises[code].equipment))].map((slug) => book.terms.equipment[slug]);
  part("fetch", HTMLElement).textContent = speech.say("site.fetch_first", { things: joinDoseParts(things, speech) || speech.say("site.nothing") });
  part("only-one", HTMLElement).hidden = list.own;
  part("formers", HTMLElement).replaceChildren(...list.former.map((code) => make("li", { class: "note" }, [speech.say("phone.former", { exercise: titleOf(code, book) })])));
  part("formers", HTMLElement).hidden = !list.former.length;
  part("stops", HTMLUListElement).replaceChildren(...makeStops(stopRules(codes, list.place, book), book, speech));
  showPlace(list, book, speech);
  showPhone(part("call-place", HTMLAnchorElement), list, book, speech);
  const rows = list.picks.map((pick) => makeRow(pick, book, speech, isHurting(pick.code) ? makeHurt(list, book, speech) : null, opened));
  part("rows", HTMLOListElement).replaceChildren(...rows);
  part("glance", HTMLUListElement).replaceChildren(...rows.map((row, at) => makeGlance(row, book.exercises[codes[at]], list.picks[at].dose)));
}

/**
 * What the list takes over from its programme: the step with its conditions, what to ask and mind, what goes for the whole day.
 * @param {MyList} list
 * @param {MyBook} book
 * @param {Speech} speech
 */
function showPlace({ place }, book, speech) {
  const { programme, step, cautions, lost } = place;
  part("lost", HTMLElement).textContent = lost ? speech.say(lost === "origin" ? "steps.lost_origin" : "steps.lost_step") : "";
  part("lost", HTMLElement).hidden = !lost;
  const named = step?.name ?? "";
  const heading = programme ? [make("h2", {}, [programme.title])] : [];
  const conditions = (step?.lines ?? []).map(([label, text]) => make("p", {}, [make("strong", {}, [label]), " ", text]));
  part("place", HTMLElement).replaceChildren(...heading, ...(named ? [make("p", { class: "step-name" }, [named])] : []), ...conditions);
  part("place", HTMLElement).hidden = !programme;
  const signs = (/** @type {"ask" | "care"} */ kind) => cautions[kind].map((slug) => book.signs[slug]);
  part("ask-first", HTMLElement).replaceChildren(...listOf(speech.say("site.ask"), signs("ask")));
  part("cautions", HTMLElement).replaceChildren(...listOf(speech.say("site.care"), signs("care")));
  const day = programme?.day ?? [];
  const rows = make("ul", { class: "points" }, day.map((text) => make("li", {}, [text])));
  part("day", HTMLElement).replaceChildren(...(day.length ? [make("h2", {}, [speech.say("steps.all_day")]), rows] : []));
}

/**
 * @param {string} heading
 * @param {string[][]} signs
 * @returns {HTMLElement[]}
 */
function listOf(heading, signs) {
  if (!signs.length) return [];
  const rows = signs.map(([when, act]) => make("li", {}, [make("strong", {}, [when]), " ", act]));
  return [make("section", { class: "care" }, [make("h2", {}, [heading]), make("ul", { class: "signs" }, rows)])];
}

/**
 * @param {HTMLAnchorElement} link
 * @param {MyList} list
 * @param {MyBook} book
 * @param {Speech} speech
 */
export function showPhone(link, list, book, speech) {
  const place = book.clinic.locations[list.location];
  link.href = place.call;
  link.textContent = speech.say("phone.call_place", { place: place.name, phone: place.phone });
  const strip = document.querySelector(".strip a:nth-of-type(3)");
  if (strip instanceof HTMLAnchorElement) strip.href = place.call;
}

/**
 * That an exercise is to be left out until the clinic was called.
 * @param {MyList} list
 * @param {MyBook} book
 * @param {Speech} speech
 * @returns {HTMLElement}
 */
function makeHurt(list, book, speech) {
  const call = /** @type {HTMLAnchorElement} */ (make("a", { class: "phone" }));
  showPhone(call, list, book, speech);
  const said = speech.say("phone.pain_high", { bound: speech.number(lessUpTo(book)) });
  return make("div", { class: "hurt" }, [make("p", {}, [said]), make("p", { class: "call-lines" }, [call])]);
}

/**
 * @param {import("./book.js").MyPick} pick
 * @param {MyBook} book
 * @param {Speech} speech
 * @param {HTMLElement | null} hurt what stands before everything else of the exercise
 * @param {(code: string, details: HTMLDetailsElement) => void} opened
 * @returns {HTMLElement}
 */
function makeRow({ code, dose, part }, book, speech, hurt, opened) {
  const entry = book.exercises[code];
  const often = [turnLine(turnDose(dose, part), speech), frequencyLine(dose, speech, doseNames(dose, book.terms)), effortScaleLine(dose, speech, book.clinic.effort)].filter(Boolean);
  const lines = [
    make("h3", { class: "row-name" }, [entry.title]),
    make("p", { class: "row-dose" }, [doseLine(dose, speech, doseNames(dose, book.terms))]),
    ...often.map((line) => make("p", { class: "row-facts" }, [line])),
  ];
  const details = /** @type {HTMLDetailsElement} */ (make("details", {}, [make("summary", {}, [speech.say("phone.how")])]));
  details.addEventListener("toggle", () => details.open && opened(code, details));
  return make("li", {}, [...(hurt ? [hurt] : []), makePicture(entry, dose, ""), make("div", { class: "row-text" }, lines), details]);
}

/**
 * A picture that leads to its exercise.
 * @param {HTMLElement} row
 * @param {import("./book.js").MyEntry} entry
 * @param {import("../bundle/code.js").Dose} dose
 * @returns {HTMLElement}
 */
function makeGlance(row, entry, dose) {
  const button = makeButton("", () => {
    row.scrollIntoView();
    row.querySelector("summary")?.focus({ preventScroll: true });
  });
  button.append(makePicture(entry, dose, entry.title));
  return make("li", {}, [button]);
}

/**
 * @param {import("./book.js").MyEntry} entry
 * @param {import("../bundle/code.js").Dose} dose  by which the picture is mirrored
 * @param {string} alt
 * @returns {HTMLElement}
 */
function makePicture({ picture, mirror }, { side }, alt) {
  return make("img", { class: mirror === side ? "panel mirrored" : "panel", src: picture, alt, width: "96", height: "96" });
}
