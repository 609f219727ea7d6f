/** The log: how many days, a month with its marks, each session in a line; and the same as plain text. */

import { make } from "../bundle/dom.js";
import { part } from "../page.js";
import { countDays, monthOf } from "./log.js";
import { sayDay, today } from "../day.js";
import { SHORT_DAY, sayAmount } from "./say.js";
import { titleOf } from "./stops.js";

/** @typedef {import("../bundle/speech.js").Speech} Speech */
/** @typedef {import("./book.js").MyBook} MyBook */
/** @typedef {import("./log.js").Log} Log */

/** Most letters of a weekday that stand over a day; longer ones are shown by their letter. */
const LONGEST_WEEKDAY = 4;

/**
 * @param {Log} log
 * @param {Speech} speech
 * @returns {string[]}
 */
function sayCounts(log, speech) {
  return [speech.count("phone.week_days", countDays(log, today(), 7)), speech.count("phone.month_days", countDays(log, today(), 28))];
}

/**
 * @param {import("./log.js").Entry} entry
 * @param {MyBook} book
 * @param {Speech} speech
 * @returns {string[]}
 */
function sayEntry(entry, book, speech) {
  const number = (/** @type {number | null} */ value) => (value === null ? "–" : speech.number(value));
  const done = entry.done.map((one) => speech.say("phone.log_exercise", { exercise: titleOf(one.code, book), amount: sayAmount(one, speech) }));
  const line = speech.say("phone.log_line", { day: sayDay(entry.date, speech.language, { ...SHORT_DAY, year: "numeric" }), exercises: speech.join(done) });
  return [line, speech.say("phone.answers", { effort: number(entry.effort), pain: number(entry.pain) })];
}

/**
 * @param {Log} log
 * @param {MyBook} book
 * @param {Speech} speech
 * @returns {string}
 */
export function writeLogText(log, book, speech) {
  const entries = log.entries.map((entry) => sayEntry(entry, book, speech).join("\n"));
  return [`${book.clinic.name}\n${speech.say("phone.log")}`, sayCounts(log, speech).join("\n"), ...entries].join("\n\n") + "\n";
}

/**
 * @param {Log} log
 * @param {MyBook} book
 * @param {Speech} speech
 */
export function showLog(log, book, speech) {
  part("log-counts", HTMLUListElement).replaceChildren(...sayCounts(log, speech).map((line) => make("li", {}, [line])));
  showMonth(log, speech);
  const lines = [...log.entries].reverse().map((entry) => make("li", {}, sayEntry(entry, book, speech).map((line) => make("p", {}, [line]))));
  part("log-lines", HTMLUListElement).replaceChildren(...(lines.length ? lines : [make("li", {}, [speech.say("phone.not_yet")])]));
}

/**
 * The present month, each day with a session marked.
 * @param {Log} log
 * @param {Speech} speech
 */
function showMonth(log, speech) {
  const marked = new Set(log.entries.map((entry) => entry.date));
  const weeks = monthOf(today(), firstWeekday(speech.language));
  const full = /** @type {string[]} */ (weeks.find((week) => week.every(Boolean)));
  const said = (/** @type {"short" | "narrow" | "long"} */ weekday) => full.map((day) => sayDay(day, speech.language, { weekday }));
  const shown = said("short").some((name) => name.length > LONGEST_WEEKDAY) ? said("narrow") : said("short");
  const heads = said("long").map((name, at) => make("th", { scope: "col" }, [make("span", { "aria-hidden": "true" }, [shown[at]]), make("span", { class: "heard" }, [name])]));
  const rows = weeks.map((week) => make("tr", {}, week.map((day) => makeCell(day, marked.has(day), speech))));
  part("month", HTMLTableElement).replaceChildren(
    make("caption", {}, [sayDay(today(), speech.language, { month: "long", year: "numeric" })]),
    make("thead", {}, [make("tr", {}, heads)]),
    make("tbody", {}, rows),
  );
}

/**
 * @param {string} day
 * @param {boolean} marked
 * @param {Speech} speech
 * @returns {HTMLElement}
 */
function makeCell(day, marked, speech) {
  if (!day) return make("td");
  const number = speech.number(Number(day.slice(-2)));
  /** @type {Record<string, string>} */
  const present = day === today() ? { "aria-current": "date" } : {};
  if (!marked) return make("td", present, [number]);
  const told = speech.say("phone.exercised", { day: sayDay(day, speech.language, { day: "numeric", month: "long" }) });
  return make("td", { class: "marked", ...present }, [make("span", { "aria-hidden": "true" }, [number]), make("span", { class: "heard" }, [told])]);
}

/**
 * The first day of the week where the language is spoken, 1 for Monday to 7 for Sunday.
 * @param {string} language
 * @returns {number}
 */
function firstWeekday(language) {
  const locale = /** @type {any} */ (new Intl.Locale(language));
  return (locale.getWeekInfo?.() ?? locale.weekInfo)?.firstDay ?? 1;
}
