/**
 * The sheets of a language in one type size: shows those of the bundle in the address, with its doses, and prints them.
 * The texts stand in the page as the PDF writer's templates made them; here only what the bundle decides is filled in.
 */

import { part } from "../page.js";
import { namesOf, totalsOf, wholeDose } from "./book.js";
import { groupCode, isRefusal, lookUp } from "./code.js";
import { decodeBundle } from "./former_code.js";
import { make, makeQrPicture } from "./dom.js";
import { aboutMinutes, doseFacts, doseLine, frequencyLine, joinDoseParts, loadPhrase, tempoLine, sentencesBeside, turnLine } from "./dose_words.js";
import { patientLink } from "./fhir.js";
import { keepPages } from "./offline.js";
import { drawAddressQr, drawQr } from "./qr.js";
import { fillRow, fillRules, fitRows, set } from "./rows.js";
import { sayRefusal } from "./refusals.js";
import { countPages, fitArticle, marginsOf } from "./sheet_fit.js";
import { Speech } from "./speech.js";
import { originOf, placeOf, readyPhrase, stepName } from "./steps.js";
import { sayBefore, sayPartsOf } from "./said_stages.js";
import { turnDose } from "./parts.js";
import { stageNodes } from "./stage_nodes.js";
import { laterMinutes } from "./chart.js";
import { exerciseSeconds } from "./sums.js";
import { thingsOf } from "./substitutes.js";
import { tickTables } from "./ticks.js";

/** @type {import("./book.js").Book} */
const book = /** @type {any} */ (globalThis).handoutsBook;
const speech = new Speech(book.words);
const root = document.documentElement;
const sheets = part("sheets", HTMLElement);
/** @type {import("./sheet_fit.js").Measures} */
const measures = JSON.parse(sheets.dataset.measures ?? "{}");
/** Whether the clinician's page shows the sheet beside its list. */
const isFramed = parent !== window && readWishes().wishes.has("frame");

/**
 * What the address asks for.
 * @returns {{code: string, wishes: Map<string, string>}}
 */
function readWishes() {
  const [code, ...rest] = location.hash.slice(1).split("&");
  return { code, wishes: new Map(rest.map((wish) => /** @type {[string, string]} */ ([wish.split("=")[0], wish.split("=")[1] ?? ""]))) };
}

/**
 * @param {string} text
 * @returns {string} a text as a string of a style sheet
 */
function quote(text) {
  return `"${text.replace(/["\\\n]/g, (character) => `\\${character.charCodeAt(0).toString(16)} `)}"`;
}

/**
 * Head and foot of every page, its size and its margins.
 * @param {string} paper
 * @param {import("./sheet_fit.js").Place} place
 */
function setPage(paper, place) {
  const { head: clinic, foot: version = "", rules = "", pageBefore, pageBetween, pageAfter } = sheets.dataset;
  const [width, height] = measures.papers[paper];
  const [above, below, side] = marginsOf(place, paper, measures);
  const text = "font-family: var(--font); font-size: var(--type-note); line-height: 1.2;";
  const head = `${text} vertical-align: bottom; padding-bottom: 1.2mm; margin-bottom: 2mm; border-bottom: 1.2pt solid var(--accent);`;
  const foot = `${text} vertical-align: top; padding-top: 1mm; margin-top: 1.5mm; color: #33302b; border-top: 0.5pt solid #8a857c;`;
  const [start, end] = root.dir === "rtl" ? ["right", "left"] : ["left", "right"];
  const pages = [pageBefore, pageBetween, pageAfter].map((words) => quote(words ?? ""));
  const style = new CSSStyleSheet();
  style.replaceSync(`@page {
    size: ${width}mm ${height}mm;
    margin: ${above}mm ${side}mm ${below}mm;
    @top-${start} { content: ${quote(clinic ?? "")}; ${head} font-weight: 700; color: var(--accent); text-align: ${start}; }
    @top-center { content: ""; ${head} }
    @top-${end} { content: ${quote(place.head)}; ${head} text-align: ${end}; }
    @bottom-${start} { content: ${quote(`${rules}  ${version}`)}; ${foot} text-align: ${start}; }
    @bottom-center { content: ""; ${foot} }
    @bottom-${end} { content: ${pages[0]} counter(page) ${pages[1]} counter(pages) ${pages[2]}; ${foot} text-align: ${end}; }
  }
  @page :first { @bottom-${start} { content: ${quote(version)}; } }`);
  document.adoptedStyleSheets = [style];
}

/**
 * The dose of an exercise as large numerals with their words, and the sentences under them.
 * @param {HTMLElement} article
 * @param {import("./code.js").Pick} pick
 */
function fillDose(article, pick) {
  const dose = wholeDose(pick, book);
  const place = article.querySelector(".dose");
  if (!place) return;
  const facts = doseFacts(dose, speech).map(({ numeral, word }) => make("li", {}, [make("b", {}, [numeral]), " ", make("span", {}, [word])]));
  const seconds = exerciseSeconds(dose);
  const band = dose.band === undefined ? "" : loadPhrase(dose, speech, namesOf(dose, book));
  const lines = [
    ...sayBefore(pick, book, speech),
    band && speech.say("paper.load", { load: band.slice(0, 1).toUpperCase() + band.slice(1) }),
    ...sentencesBeside(dose, speech, namesOf(dose, book)),
    turnLine(turnDose(dose, pick.part), speech),
    dose.tempo ? speech.say("paper.tempo", { tempo: tempoLine(dose, speech) }) : "",
    seconds === null ? "" : speech.say("paper.minutes", { minutes: aboutMinutes(seconds, speech) }),
    dose.effort ? (book.clinic.effort ?? speech.say("paper.effort_ends")) : "",
  ].filter(Boolean);
  const notes = Array.from(article.querySelectorAll(":is(.dose, .dose-words) .figure-note")).flatMap((note) => [note, " "]);
  const words = [make("p", {}, [...lines.flatMap((line) => [make("span", {}, [line]), " "]), ...notes]), ...stageNodes(pick, book, speech)];
  const below = facts.length ? article.querySelector(".dose-words") : null;
  place.replaceChildren(make("ul", {}, facts), ...(below ? [] : words));
  below?.replaceChildren(...words);
}

/**
 * Shows the figure for the side that is trained.
 * @param {HTMLElement} article
 * @param {import("./code.js").Pick} pick
 */
function turnFigure(article, pick) {
  for (const picture of article.querySelectorAll("img")) {
    const { mirror, mirrorSrc, mirrorAlt } = picture.dataset;
    if (mirror === wholeDose(pick, book).side) [picture.src, picture.alt] = [mirrorSrc ?? "", mirrorAlt ?? ""];
  }
}

/**
 * What an exercise's page follows from in the bundle: its step, the words over its condition, the programme's cues.
 * @param {HTMLElement} article
 * @param {import("./code.js").Pick} pick
 * @param {string[]} codes
 * @param {import("./steps.js").BundlePlace} place
 */
function fillPlace(article, pick, codes, place) {
  const { code } = pick;
  const name = stepName(code, place, book);
  const position = book.terms.positions[book.exercises[code].position];
  const shown = position.slice(0, 1).toUpperCase() + position.slice(1);
  const kicker = article.querySelector(".kicker");
  if (kicker) kicker.textContent = name ? speech.say("paper.beside", { first: name, second: shown }) : shown;
  const needs = article.querySelector(".needs");
  const { equipment } = book.exercises[code];
  const [listed, taken] = [equipment, thingsOf(equipment, pick, book.substitutes)].map((things) => speech.say("paper.equipment", { things: speech.join(things.map((slug) => book.terms.equipment[slug])) }));
  if (needs && listed !== taken) needs.textContent = (needs.textContent ?? "").replace(listed, taken);
  const heading = article.querySelector(".ready > :first-child");
  if (heading) heading.textContent = speech.say(readyPhrase(code, codes, place, book));
  const list = article.querySelector(".cues ul");
  const own = Array.from(list?.children ?? [], (cue) => cue.textContent?.trim());
  list?.append(...(place.programme?.cues ?? []).filter((cue) => !own.includes(cue)).map((cue) => make("li", {}, [cue])));
}

/**
 * On the first page the programme, the step with its conditions, and what goes for the whole day.
 * @param {import("./steps.js").BundlePlace} place
 */
function showPlace({ programme, step, name, lost }) {
  const told = lost ? [make("p", { class: "lost" }, [make("strong", {}, [speech.say(`steps.lost_${lost}`)])])] : [];
  part("place", HTMLElement).replaceChildren(...told);
  if (!programme) return;
  const lines = (step?.lines ?? []).map(([label, text]) => make("p", { class: "condition" }, [make("b", {}, [label]), " ", make("span", {}, [text])]));
  part("place", HTMLElement).append(make("h2", {}, [name]), ...(lines.length ? [make("div", { class: "conditions" }, lines)] : []));
  part("hints", HTMLElement).replaceChildren(...hintsOf("steps.all_day", programme.day));
}

/**
 * @param {string} heading
 * @param {string[]} items
 * @returns {HTMLElement[]}
 */
function hintsOf(heading, items) {
  if (!items.length) return [];
  return [make("section", { class: "prose" }, [make("h2", {}, [speech.say(heading)]), make("ul", {}, items.map((item) => make("li", {}, [item])))])];
}

/**
 * An exercise in the list on the first page.
 * @param {import("./code.js").Pick} pick
 * @param {number} at
 * @param {HTMLElement} article
 * @returns {HTMLElement}
 */
function entryOf(pick, at, article) {
  const dose = wholeDose(pick, book);
  const line = joinDoseParts([doseLine(dose, speech, namesOf(dose, book)), frequencyLine(dose, speech, namesOf(dose, book))], speech);
  const picture = article.querySelector(".figure > *")?.cloneNode(true);
  const words = make("span", { class: "words" }, [make("b", {}, [book.exercises[pick.code].title]), " ", make("span", {}, [line])]);
  const small = make("span", { class: "small-figure" }, picture ? [picture] : []);
  return make("li", {}, [make("a", { href: `#${article.id}` }, [make("span", { class: "number" }, [speech.number(at + 1)]), small, words])]);
}

/**
 * The tables to tick.
 * @param {import("./code.js").Bundle} bundle
 * @returns {HTMLElement[]}
 */
function tableNodes(bundle) {
  const exercises = bundle.picks.map((pick) => ({ name: book.exercises[pick.code].title, dose: wholeDose(pick, book), stages: pick.stages }));
  return tickTables(exercises, bundle.weeks, measures.boxes, speech).map(({ heading, corner, heads, rows }) => {
    const head = make("tr", {}, [make("th", { scope: "col", class: "name" }, [corner]), ...heads.map((text) => make("th", { scope: "col" }, [text]))]);
    const body = rows.map(({ name, boxes, box }) => {
      const cells = boxes.map((count) => make("td", {}, Array.from({ length: count }, () => make("span", { class: box }))));
      return make("tr", {}, [make("th", { scope: "row", class: "name" }, [name]), ...cells]);
    });
    return make("section", { class: "ticks" }, [make("h2", {}, [heading]), make("table", {}, [make("thead", {}, [head]), make("tbody", {}, body)])]);
  });
}

/**
 * The first page: the list, how long a session takes, what to fetch, boxes to tick, stop rules, the patient's code.
 * @param {import("./code.js").Bundle} bundle
 * @param {string} code
 * @param {HTMLElement[]} articles
 */
function fillCover(bundle, code, articles) {
  part("session", HTMLElement).textContent = sessionOf(bundle);
  part("entries", HTMLElement).replaceChildren(...bundle.picks.map((pick, at) => entryOf(pick, at, articles[at])));
  part("ticks", HTMLElement).replaceChildren(...tableNodes(bundle));
  part("code", HTMLElement).append(...codeOf(bundle, code));
  part("typed", HTMLElement).textContent = groupCode(code.toUpperCase());
  const place = placeOf(originOf(bundle), book);
  showPlace(place);
  showCautions(bundle, place);
  part("review", HTMLElement).textContent = oldestReview(bundle);
}

/**
 * How long one session takes, and what to fetch first.
 * @param {import("./code.js").Bundle} bundle
 * @returns {string}
 */
function sessionOf(bundle) {
  const totals = totalsOf(bundle.picks, book, bundle.roundRest);
  const things = speech.join(totals.equipment.map((slug) => book.terms.equipment[slug]));
  const cue = lookUp(book.cues, bundle.cue ?? "");
  const later = totals.unknown.length ? [] : laterMinutes(bundle, book, speech);
  const notes = [
    cue ? speech.say("dose.session_cue", { cue }) : "",
    totals.unknown.length || totals.occasions.length === bundle.picks.length ? "" : speech.say("paper.session", { minutes: aboutMinutes(totals.seconds, speech) }),
    totals.occasions.length ? speech.say("paper.through_day", { exercises: speech.join(totals.occasions.map((at) => book.exercises[bundle.picks[at].code].title)) }) : "",
    ...later.map(([week, minutes]) => speech.say("paper.session_later", { n: speech.number(week), minutes })),
    ...sayPartsOf(bundle, book, speech),
    things && speech.say("paper.fetch", { things }),
    bundle.given?.length ? speech.say("paper.given", { things: speech.join(bundle.given.map((one) => book.handed[one][0])) }) : "",
  ];
  return notes.filter(Boolean).join(" ");
}

/**
 * The QR code of the patient's link.
 * @param {import("./code.js").Bundle} bundle
 * @param {string} code
 * @returns {SVGElement[]}
 */
function codeOf(bundle, code) {
  const link = patientLink(book.clinic.site, bundle.language, code);
  const modules = drawQr(link.slice(0, -code.length), code);
  return modules ? [sizedQr(modules, link)] : [];
}

/**
 * When the exercise was read through that was read longest ago.
 * @param {import("./code.js").Bundle} bundle
 * @returns {string}
 */
function oldestReview(bundle) {
  return bundle.picks.map((pick) => book.exercises[pick.code].reviewed).reduce((one, other) => (other[0] < one[0] ? other : one))[1];
}

/**
 * The front of several exercises on a page: what goes for all of them.
 * @param {import("./code.js").Bundle} bundle
 * @param {string} code
 * @param {HTMLElement[]} articles
 * @returns {HTMLElement}
 */
function fillFront(bundle, code, articles) {
  const front = part("front", HTMLElement);
  const place = placeOf(originOf(bundle), book);
  set(front, ".session", [sessionOf(bundle)]);
  set(front, ".code", codeOf(bundle, code));
  set(front, ".typed span", [groupCode(code.toUpperCase())]);
  if (place.programme) front.querySelector("h1")?.after(make("h2", {}, [place.name]));
  const told = place.lost ? [make("p", { class: "lost" }, [make("strong", {}, [speech.say(`steps.lost_${place.lost}`)])])] : [];
  const lines = place.programme ? (place.step?.lines ?? []).map(([label, text]) => make("p", { class: "condition" }, [make("b", {}, [label]), " ", make("span", {}, [text])])) : [];
  const lists = /** @type {[string, string[]][]} */ (place.programme ? [["steps.with_each", place.programme.cues], ["steps.all_day", place.programme.day]] : []);
  const hints = lists.filter(([, items]) => items.length).map(([heading, items]) => make("section", { class: "prose" }, [make("h2", {}, [speech.say(heading)]), " ", make("p", {}, [items.join(" ")])]));
  front.querySelector(".place")?.replaceWith(...told, ...(lines.length ? [make("div", { class: "conditions" }, lines)] : []), ...hints);
  fillRules(front, bundle, place, book, speech);
  const notes = articles.map((article) => article.querySelector(".figure-note")?.textContent?.trim() ?? "");
  set(front, ".notes", [[...new Set(notes)].filter(Boolean).join(" ")]);
  set(front, ".review", [oldestReview(bundle)]);
  return front;
}

/**
 * Leaves the cautions of what the bundle was begun from and of its exercises, in their order, those with the emergency
 * number first; of the exercises the stop rules alone, as each has a page of its own.
 * @param {import("./code.js").Bundle} bundle
 * @param {import("./steps.js").BundlePlace} place
 */
function showCautions(bundle, place) {
  for (const kind of /** @type {const} */ (["stop", "ask", "care"])) {
    const group = part("cover", HTMLElement).querySelector(`.cautions.${kind}`);
    const list = group?.querySelector("ul");
    const rows = Array.from(list?.children ?? []);
    const own = kind === "stop" ? bundle.picks.flatMap((pick) => book.exercises[pick.code][kind]) : [];
    const wanted = [...new Set([...place.cautions[kind], ...own])];
    const first = wanted.filter((slug) => book.urgent.includes(slug));
    const ordered = [...first, ...wanted.filter((slug) => !first.includes(slug))];
    if (ordered.length) list?.replaceChildren(...ordered.map((slug) => rows[book.order[kind].indexOf(slug)]));
    else group?.remove();
  }
}

/**
 * The code in real millimetres, a module as large as in the PDF.
 * @param {boolean[][]} modules
 * @param {string} link
 * @returns {SVGElement}
 */
function sizedQr(modules, link) {
  const svg = makeQrPicture(modules, speech.say("paper.code_alt", { address: link }));
  const [least, aim, low, high] = measures.module;
  const module = Math.max(least, Math.min(high, Math.max(low, aim * modules.length)) / modules.length);
  const length = `${((modules.length + 8) * module).toFixed(2)}mm`;
  svg.setAttribute("width", length);
  svg.setAttribute("height", length);
  return svg;
}

/**
 * Draws the code of an exercise's page where its address stands.
 * @param {HTMLElement} article
 */
function drawCodes(article) {
  for (const place of article.querySelectorAll("[data-address]")) {
    const link = place.getAttribute("data-address") ?? "";
    const modules = drawAddressQr(link);
    if (modules) place.replaceWith(sizedQr(modules, link));
    else place.remove();
  }
}

/** Shows what the address asks for, or why it cannot be shown; then nothing is shown at all. */
async function showSheets() {
  const { code, wishes } = readWishes();
  const opened = decodeBundle(code, book);
  const note = part("refused", HTMLElement);
  if (isRefusal(opened)) {
    note.textContent = sayRefusal(opened, book, speech);
    note.hidden = false;
    sheets.hidden = true;
    return;
  }
  const { bundle } = opened;
  const paper = book.papers.includes(wishes.get("paper") ?? "") ? (wishes.get("paper") ?? "") : book.papers[0];
  root.classList.remove("letter", "a4");
  root.classList.add(paper);
  const at = book.clinic.locations.findIndex(({ slug }) => slug === bundle.location);
  const place = measures.places[at];
  setPage(paper, place);
  showPageShape(paper, place);
  root.classList.toggle("framed", isFramed);
  const articles = bundle.picks.map((pick) => part(book.exercises[pick.code].slug, HTMLElement));
  const compact = wishes.get("layout") !== "page" && bundle.picks.length > 1;
  const codes = bundle.picks.map((pick) => pick.code);
  bundle.picks.forEach((pick, number) => {
    turnFigure(articles[number], pick);
    turnFigure(part(`row-${book.exercises[pick.code].slug}`, HTMLElement), pick);
    fillDose(articles[number], pick);
    drawCodes(articles[number]);
    fillPlace(articles[number], pick, codes, placeOf(originOf(bundle), book));
  });
  for (const calls of sheets.querySelectorAll(".calls")) keepPlace(calls, at);
  const rows = bundle.picks.map((pick) => part(`row-${book.exercises[pick.code].slug}`, HTMLElement));
  if (compact) rows.forEach((row, number) => fillRow(row, bundle.picks[number], number, bundle.weeks, book, speech, measures));
  else fillCover(bundle, code, articles);
  const front = compact ? fillFront(bundle, code, articles) : part("cover", HTMLElement);
  const isPlan = Boolean(lookUp(book.cues, bundle.cue ?? "")) || bundle.picks.some(({ stages }) => stages?.length);
  if (isPlan || wishes.has("line")) front.querySelector(".title")?.append(penLine("paper.goal", "pen goal"));
  if (wishes.has("line")) for (const article of compact ? [] : articles) article.querySelector(".small")?.before(penLine());
  if (wishes.has("line")) for (const row of compact ? rows : []) row.append(penLine());
  if (compact) front.querySelector(".hole")?.append(...rows);
  sheets.replaceChildren(front, ...(compact ? [] : articles));
  sheets.hidden = false;
  const pictures = Array.from(sheets.querySelectorAll("img"));
  for (const picture of pictures) picture.loading = "eager";
  await Promise.all(pictures.map((picture) => picture.decode().catch(() => undefined)));
  await document.fonts.ready;
  if (compact) sheets.replaceChildren(...fitRows(front, rows, paper, place, measures));
  for (const article of compact ? [] : sheets.querySelectorAll("article")) {
    // In large type the first page may take the pages that it needs, as in the PDF.
    if (article.id !== "cover" || !root.classList.contains("large")) fitArticle(article, paper, place, measures);
  }
  const pages = numberPages(place, paper);
  root.dataset.ready = "yes";
  if (isFramed) parent.postMessage({ kind: "sheet", pages, width: sheets.clientWidth, height: millimetres(measures.papers[paper][1]) }, "*");
  else if (wishes.has("print")) print();
}

/** @param {number} length @returns {number} millimetres in pixels */
const millimetres = (length) => (length * 96) / 25.4;

/**
 * On the screen a page is as large as its paper, with the same margins.
 * @param {string} paper
 * @param {import("./sheet_fit.js").Place} place
 */
function showPageShape(paper, place) {
  const [width, height] = measures.papers[paper];
  const [above, below, side] = marginsOf(place, paper, measures);
  for (const [name, value] of Object.entries({ width, height, above, below, side })) root.style.setProperty(`--page-${name}`, `${value}mm`);
}

/**
 * On the screen each page has its head and foot too; what takes several pages has them once.
 * @param {import("./sheet_fit.js").Place} place
 * @param {string} paper
 * @returns {number} how many pages of paper there are
 */
function numberPages(place, paper) {
  const { head = "", foot = "", rules = "", pageBefore = "", pageBetween = "", pageAfter = "" } = sheets.dataset;
  const [, height] = measures.papers[paper];
  const articles = Array.from(sheets.querySelectorAll(":scope > article"), (node) => /** @type {HTMLElement} */ (node)).map((article) => ({ article, pages: countPages(article, height, place, paper, measures) }));
  const all = articles.reduce((sum, { pages }) => sum + pages, 0);
  let first = 1;
  for (const { article, pages } of articles) {
    const span = pages > 1 ? `${first}–${first + pages - 1}` : String(first);
    const said = first > 1 ? `${rules}  ${foot}` : foot;
    first += pages;
    article.append(
      make("div", { class: "page-head", "aria-hidden": "true" }, [make("b", {}, [head]), make("span", {}, [place.head])]),
      make("div", { class: "page-foot", "aria-hidden": "true" }, [make("span", {}, [said]), make("span", {}, [`${pageBefore}${span}${pageBetween}${all}${pageAfter}`])]),
    );
  }
  return all;
}

/**
 * Leaves the emergency number and the chosen location.
 * @param {Element} calls
 * @param {number} at
 */
function keepPlace(calls, at) {
  Array.from(calls.children).forEach((line, place) => {
    if (place > 0 && place - 1 !== at) line.remove();
  });
}

/**
 * @param {"paper.notes" | "paper.goal"} [phrase]
 * @param {string} [look]
 * @returns {HTMLElement} an empty line to write on
 */
function penLine(phrase = "paper.notes", look = "pen") {
  return make("p", { class: look }, [make("span", {}, [speech.say(phrase)])]);
}

part("print", HTMLButtonElement).addEventListener("click", () => print());
addEventListener("hashchange", () => {
  // A link to a page of the sheets is not a wish for others.
  if (!lookUp(book.exercises, location.hash.slice(1, 5)) && document.getElementById(location.hash.slice(1))) return;
  location.reload();
});
showSheets();
if (!isFramed) keepPages("../../../worker.js", () => {}, () => {});
