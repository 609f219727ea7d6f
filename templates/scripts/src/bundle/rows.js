/**
 * Several exercises on a page: a front with what goes for all of them, and a row an exercise.  What is chosen by fit is
 * chosen as in handouts/paper/rows.py, with the browser's own measuring.
 */

import { boxesInWeek, dayBox } from "./ticks.js";
import { namesOf, wholeDose } from "./book.js";
import { make } from "./dom.js";
import { doseFacts, loadPhrase, tempoLine, sentencesBeside, turnLine } from "./dose_words.js";
import { sayBefore } from "./said_stages.js";
import { turnDose } from "./parts.js";
import { stageNodes } from "./stage_nodes.js";
import { fillPages, gapOf } from "./packing_rows.js";
import { PX_IN_MM, marginsOf, setSpacing, setWidth, SPACINGS } from "./sheet_fit.js";

/** @typedef {import("./book.js").Book} Book */
/** @typedef {import("./speech.js").Speech} Speech */
/** @typedef {import("./sheet_fit.js").Measures} Measures */

/** Pages that a front may take. */
const MOST_PAGES = 3;
/** The letters that the scale of pain is worth. */
const SCALE_LETTERS = 45;
const WIDE = /[\u3000-\u9fff\uff00-\uffef]/g;

/**
 * An exercise's row with its number, dose, boxes and the place of its fault.
 * @param {HTMLElement} row
 * @param {import("./code.js").Pick} pick
 * @param {number} at
 * @param {number} weeks
 * @param {Book} book
 * @param {Speech} speech
 * @param {Measures} measures
 */
export function fillRow(row, pick, at, weeks, book, speech, measures) {
  const dose = wholeDose(pick, book);
  const { small, twoInLine, lines } = measures.rows;
  set(row, ".number", [speech.number(at + 1)]);
  const facts = doseFacts(dose, speech);
  const band = dose.band === undefined ? "" : loadPhrase(dose, speech, namesOf(dose, book));
  const more = [
    ...facts.filter(({ kind }) => small.includes(kind)).map(({ numeral, word }) => `${numeral} ${word}`),
    ...sayBefore(pick, book, speech),
    band && speech.say("paper.load", { load: band.slice(0, 1).toUpperCase() + band.slice(1) }),
    ...sentencesBeside(dose, speech, namesOf(dose, book)),
    turnLine(turnDose(dose, pick.part), speech),
    dose.tempo ? speech.say("paper.tempo", { tempo: tempoLine(dose, speech) }) : "",
    dayBox(dose) === "box" ? "" : speech.say("paper.marks"),
  ].filter(Boolean);
  const large = facts.filter(({ kind }) => !small.includes(kind)).flatMap(({ numeral, word }) => [make("li", {}, [make("b", {}, [numeral]), " ", make("span", {}, [word])]), " "]);
  if (facts.length) set(row, ".dose", [make("ul", {}, large), make("p", {}, more.flatMap((line) => [make("span", {}, [line]), " "])), ...stageNodes(pick, book, speech)]);
  const days = Math.max(...Array.from({ length: weeks }, (_, at) => boxesInWeek(dose, pick.stages, at + 1)));
  const names = Array.from({ length: weeks }, (_, week) => (week ? speech.number(week + 1) : speech.say("paper.week", { n: speech.number(1) })));
  const boxes = (/** @type {number} */ week) => Array.from({ length: boxesInWeek(dose, pick.stages, week) }, () => make("span", { class: dayBox(dose) }));
  set(row, ".weeks", names.flatMap((name, at) => [make("span", { class: "week" }, [name, " ", ...boxes(at + 1)]), " "]));
  const fault = row.querySelector(".left .fault");
  if (fault && (days > twoInLine ? weeks : Math.ceil(weeks / 2)) > lines) row.querySelector(".right")?.append(fault);
}

/**
 * @param {HTMLElement} place
 * @param {string} selector
 * @param {(Node | string)[]} parts
 */
export function set(place, selector, parts) {
  place.querySelector(selector)?.replaceChildren(...parts);
}

/**
 * Leaves the cautions of a bundle and of its exercises, each once; what comes from exercises alone names them before it,
 * and conditions with one answer stand in one row.
 * @param {HTMLElement} front
 * @param {import("./code.js").Bundle} bundle
 * @param {import("./steps.js").BundlePlace} place
 * @param {Book} book
 * @param {Speech} speech
 */
export function fillRules(front, bundle, place, book, speech) {
  for (const kind of /** @type {const} */ (["stop", "ask", "care"])) {
    const group = front.querySelector(`.cautions.${kind}`);
    const list = group?.querySelector("ul");
    const known = Array.from(list?.children ?? []);
    const whole = place.cautions[kind];
    const wanted = [...new Set([...whole, ...bundle.picks.flatMap((pick) => book.exercises[pick.code][kind])])];
    const first = wanted.filter((slug) => book.urgent.includes(slug));
    const rows = [...first, ...wanted.filter((slug) => !first.includes(slug))].map((slug) => {
      const numbers = kind === "stop" || whole.includes(slug) ? [] : bundle.picks.flatMap((pick, at) => (book.exercises[pick.code][kind].includes(slug) ? [speech.number(at + 1)] : []));
      const each = [...new Set(numbers)];
      return { row: known[book.order[kind].indexOf(slug)], numbers: each.length ? speech.count("paper.of_exercises", each.length, { numbers: speech.join(each) }) : "" };
    });
    if (!rows.length) group?.remove();
    else list?.replaceChildren(...(kind === "stop" ? rows.map(({ row }) => row) : joinAlike(rows)));
  }
}

/**
 * What goes for all exercises comes first, so that it never stands behind the names of some.
 * @param {{row: Element, numbers: string}[]} rows
 * @returns {HTMLElement[]}
 */
function joinAlike(rows) {
  /** @type {Map<string, {row: Element, numbers: string}[]>} */
  const alike = new Map();
  for (const each of [...rows.filter(({ numbers }) => !numbers), ...rows.filter(({ numbers }) => numbers)]) {
    const answer = `${Boolean(each.numbers)} ${each.row.querySelector("span")?.innerHTML ?? ""}`;
    alike.set(answer, [...(alike.get(answer) ?? []), each]);
  }
  const at = (/** @type {string} */ numbers) => (numbers ? [make("span", { class: "at" }, [numbers]), " "] : []);
  return Array.from(alike.values(), (same) => {
    const together = new Set(same.map(({ numbers }) => numbers)).size === 1;
    const sees = same.flatMap(({ row, numbers }, place) => [...(place ? [" "] : []), ...(together ? [] : at(numbers)), ...Array.from(row.querySelector("strong")?.childNodes ?? [])]);
    const answer = /** @type {Element} */ (same[0].row.querySelector("span"));
    return make("li", {}, [...(together ? at(same[0].numbers) : []), make("strong", {}, sees), " ", answer]);
  });
}

/**
 * Sets rows and front, and gives the pages: the front with the rows that it holds, and pages of rows.
 * @param {HTMLElement} front
 * @param {HTMLElement[]} rows
 * @param {string} paper
 * @param {import("./sheet_fit.js").Place} place
 * @param {Measures} measures
 * @returns {HTMLElement[]}
 */
export function fitRows(front, rows, paper, place, measures) {
  const [width, height] = measures.papers[paper];
  const [above, below, side] = marginsOf(place, paper, measures);
  const [page, inner] = [height - above - below - measures.spare, width - 2 * side];
  const hole = /** @type {HTMLElement} */ (front.querySelector(".hole"));
  hole.replaceChildren(...rows);
  const heights = rows.map((row) => fitRow(row, inner, measures));
  hole.replaceChildren();
  if (front.querySelector(".lead")) setColumns(front, inner, shareOfStops(front, measures), measures);
  const chosen = placeListed(front, hole, heights, page, measures);
  let at = 0;
  const take = (/** @type {HTMLElement} */ room, /** @type {number} */ count, /** @type {number} */ high, /** @type {boolean} */ beside) => {
    const [own, sizes] = [rows.slice(at, at + count), heights.slice(at, at + count)];
    const gap = gapOf(sizes, high, beside, measures.rows.gap[1]);
    own.forEach((row, number) => (row.style.marginTop = `${number || beside ? gap.toFixed(2) : 0}mm`));
    room.append(...own);
    at += count;
  };
  const tail = make("div", { class: "hole tail" });
  front.querySelector('[id$="--end"]')?.before(tail);
  chosen.first.forEach((count, number) => {
    const room = number ? tail : hole;
    take(room, count, chosen.rooms[number], true);
    if (!number && count) room.style.height = `${chosen.rooms[0].toFixed(2)}mm`;
  });
  const more = chosen.further.map((count, number) => {
    const own = make("article", { class: "rows", id: `rows-${number + 1}` });
    take(own, count, page, false);
    own.append(make("div", { id: `rows-${number + 1}--end` }));
    return own;
  });
  return [front, ...more];
}

/**
 * @param {HTMLElement} article
 * @param {number} inner
 * @param {number} share
 * @param {Measures} measures
 * @returns {number} the width of the first column
 */
function setColumns(article, inner, share, measures) {
  const left = (inner - measures.between) * share;
  setWidth(article, ".left", left);
  setWidth(article, ".right", inner - measures.between - left);
  return left;
}

/**
 * The share of the width for the stop rules, so that both columns are about as high.
 * @param {HTMLElement} front
 * @param {Measures} measures
 * @returns {number}
 */
function shareOfStops(front, measures) {
  const letters = (/** @type {string} */ selector) => {
    const text = Array.from(front.querySelectorAll(selector), (part) => part.textContent?.replace(/\s+/g, " ").trim() ?? "").join("");
    return text.length + (text.match(WIDE)?.length ?? 0);
  };
  const stops = letters(".left li");
  const others = letters(".right li, .right .pain p") + SCALE_LETTERS;
  const [low, high] = measures.rows.stops;
  return Math.min(high, Math.max(low, stops / (stops + others)));
}

/**
 * A row no higher than it should be, if its words can; its height in millimetres.
 * @param {HTMLElement} row
 * @param {number} inner
 * @param {Measures} measures
 * @returns {number}
 */
function fitRow(row, inner, measures) {
  const picture = row.querySelector(".figure img");
  const place = row.querySelector(".figure");
  const shape = picture instanceof HTMLImageElement && picture.naturalHeight ? picture.naturalWidth / picture.naturalHeight : 1;
  const { aim, most, calms, figure: figures, share } = measures.rows;
  const wanted = (figures[0] * shape) / (inner - measures.between);
  const highest = setColumns(row, inner, Math.min(share[1], Math.max(share[0], wanted)), measures) / shape;
  const parts = [".left", ".right"].map((selector) => /** @type {HTMLElement} */ (row.querySelector(selector)));
  const fault = row.querySelector(".fault");
  const set = (/** @type {number} */ calm, /** @type {number} */ least) => {
    setSpacing(row, calm * SPACINGS, measures);
    if (!(place instanceof HTMLElement)) return high(row);
    place.style.height = "0";
    const [beside, words] = parts.map(high);
    place.style.height = `${Math.min(highest, Math.max(words - beside, least)).toFixed(2)}mm`;
    return high(row);
  };
  const tries = figures.flatMap((least) => calms.map((calm) => [calm, least]));
  let best = tries[0];
  let lowest = Infinity;
  for (const each of tries) {
    const now = set(each[0], each[1]);
    if (now <= aim) return now;
    if (now < lowest) [best, lowest] = [each, now];
  }
  if (lowest > most && fault instanceof HTMLElement) {
    fault.hidden = true;
    for (const each of tries) {
      const now = set(each[0], each[1]);
      if (now <= most) return now;
    }
    fault.hidden = false;
  }
  return set(best[0], best[1]);
}

/** @param {Element} part @returns {number} its height in millimetres */
const high = (part) => part.getBoundingClientRect().height / PX_IN_MM;

/**
 * The front with each stop rule on a line of its own, where that takes no page more.
 * @param {HTMLElement} front
 * @param {HTMLElement} hole
 * @param {number[]} rows
 * @param {number} page
 * @param {Measures} measures
 */
function placeListed(front, hole, rows, page, measures) {
  const stops = front.querySelector(".stop");
  const [runOn, more] = [placeFront(front, hole, rows, page, measures), front.querySelectorAll(".cut").length];
  if (!stops) return runOn;
  const uncut = () => front.querySelectorAll(".cut").forEach((cut) => cut.classList.remove("cut"));
  uncut();
  stops.classList.add("listed");
  const listed = placeFront(front, hole, rows, page, measures);
  const cuts = front.querySelectorAll(".cut").length;
  if (cuts <= more && cuts + listed.further.length <= more + runOn.further.length) return listed;
  stops.classList.remove("listed");
  uncut();
  return placeFront(front, hole, rows, page, measures);
}

/**
 * The spacing of the front and where its pages end: the fewest pages, then the calmest.
 * @param {HTMLElement} front
 * @param {HTMLElement} hole
 * @param {number[]} rows
 * @param {number} page
 * @param {Measures} measures
 * @returns {{first: number[], rooms: number[], further: number[]}}
 */
function placeFront(front, hole, rows, page, measures) {
  const blocks = /** @type {HTMLElement[]} */ (Array.from(front.children)).filter((block) => !block.id.endsWith("--end"));
  const at = blocks.indexOf(hole);
  /** @type {{score: number[], step: number, cuts: number[], first: number[], rooms: number[], further: number[]} | null} */
  let best = null;
  for (let step = SPACINGS; step >= 0; step -= 1) {
    setSpacing(front, step, measures);
    const tops = blocks.map((block) => high(block));
    const gaps = blocks.map((block) => parseFloat(getComputedStyle(block).marginTop) / PX_IN_MM);
    for (const cuts of cutsOf(blocks.length)) {
      const starts = [0, ...cuts];
      const left = starts.map((start, number) => {
        const stop = starts[number + 1] ?? blocks.length;
        return page - tops.slice(start, stop).reduce((sum, height, place) => sum + height + (place ? gaps[start + place] : 0), 0);
      });
      if (Math.min(...left) < 0) continue;
      const on = cuts.filter((cut) => cut <= at).length;
      const rooms = on < cuts.length ? [left[on], left[left.length - 1]] : [left[on]];
      const { first, further } = fillPages(rows, rooms, page, measures.rows.gap[0]);
      const score = [cuts.length + further.length, cuts.length, -step];
      if (!best || isLess(score, best.score)) best = { score, step, cuts, first, rooms, further };
    }
  }
  if (!best) return { first: [0], rooms: [0], ...{ further: fillPages(rows, [], page, measures.rows.gap[0]).further } };
  setSpacing(front, best.step, measures);
  for (const cut of best.cuts) blocks[cut].classList.add("cut");
  return best;
}

/**
 * @param {number} count
 * @returns {number[][]} before which blocks a page may begin
 */
function cutsOf(count) {
  const places = Array.from({ length: count - 1 }, (_, at) => at + 1);
  /** @type {number[][]} */
  let all = [[]];
  const found = [...all];
  for (let number = 1; number < MOST_PAGES; number += 1) {
    all = all.flatMap((cuts) => places.filter((place) => place > (cuts[cuts.length - 1] ?? 0)).map((place) => [...cuts, place]));
    found.push(...all);
  }
  return found;
}

/** @param {number[]} one @param {number[]} other @returns {boolean} */
function isLess(one, other) {
  const at = one.findIndex((value, place) => value !== other[place]);
  return at >= 0 && one[at] < other[at];
}
