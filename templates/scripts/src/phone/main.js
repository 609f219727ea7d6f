/**
 * The patient's page as it opens: the list of the link, or the one that is kept.  Everything that waits for a tap
 * (how to do it, session, log) is in more.js, which is loaded at the first tap.
 */

import { Speech } from "../bundle/speech.js";
import { make } from "../bundle/dom.js";
import { isPast, sayDay, today } from "../day.js";
import { part } from "../page.js";
import { sayState } from "../page_words.js";
import { openList, readBook } from "./book.js";
import { showList } from "./list_view.js";
import { loadScript, loadValue } from "./load.js";
import { keepOffline, useUpdate } from "./offline.js";
import { canKeep, isFull, keepList, keepsLog, readKeptList, readListDay, readRunText, runKey } from "./store.js";

/** Milliseconds that the list waits for the page's fonts. */
const LONGEST_WAIT = 500;
const book = readBook();
const speech = new Speech(book.words);
const views = /** @type {HTMLElement[]} */ (Array.from(document.querySelectorAll(".view")));
/** @type {import("./more.js").MyPage} */
const page = {
  book,
  speech,
  list: null,
  plan: "",
  busy: false,
  show,
  note,
  showMine,
  start,
  loadScript,
  loadInstructions: (code) => loadValue("handoutsExercises", code, book.exercises[code].words),
  loadFigure: (code) => loadValue("handoutsFigures", code, book.exercises[code].figure),
};
/** @type {import("./more.js").More | null} */
let more = null;
let linkWaits = false;
/** The code of a link that holds another list than the one kept, until the reader says which one to keep. */
let offered = "";

/**
 * The rest of the page; null where it cannot be loaded now.
 * @returns {Promise<import("./more.js").More | null>}
 */
async function loadMore() {
  const [forms] = await Promise.all([loadValue("handoutsWords", "more", book.later), loadScript(book.more)]);
  Object.assign(speech.forms, forms);
  if (forms) more ??= /** @type {any} */ (globalThis).handoutsMore?.(page) ?? null;
  if (!more) note(speech.say("phone.not_loaded"));
  return more;
}

/**
 * @param {string} id
 * @param {boolean} [first] the page has just been opened: the reader is at its beginning
 */
function show(id, first = false) {
  for (const view of views) view.hidden = view.id !== id;
  document.body.dataset.view = id;
  if (history.state?.view !== id) {
    const replaces = first || id === "list" || id === "refused" || id === "empty" || id === "after";
    history[replaces ? "replaceState" : "pushState"]({ view: id }, "");
  }
  part("start", HTMLElement).textContent = speech.say(page.busy ? "phone.to_session" : "phone.start");
  if (first) return;
  scrollTo(0, 0);
  part(`${id}-title`, HTMLElement).focus({ preventScroll: true });
}

/** @param {string} text shown above every view; nothing hides it */
function note(text) {
  const place = part("note-storage", HTMLElement);
  place.textContent = text;
  place.hidden = !text;
}

/** @param {boolean} first */
function start(first) {
  linkWaits = false;
  const given = location.hash.slice(1);
  const text = given && !document.getElementById(given) ? given : readKeptList();
  if (!text) return show("empty", first);
  const opened = openList(text, book);
  if ("kind" in opened) {
    loadMore().then((found) => found?.explain(opened));
    return show("refused", first);
  }
  const other = text === given && opened.language !== book.language ? book.tongues[opened.language] : "";
  if (other) return location.replace(`${other}#${given}`);
  page.list = opened.list;
  page.plan = text;
  offered = opened.list.own && text === given && isAnotherList(text) ? text : "";
  const isLook = location.search === "?look"; // a clinician looks at it on the clinic's computer, which keeps nothing of it
  if (opened.list.own && text === given && !offered && !isLook) keepList(text);
  page.busy = readRunText().startsWith(runKey(opened.list));
  showMine(first);
  if (opened.list.own && !isLook) keepForOffline(opened.list);
}

/**
 * Whether this phone keeps a list of this library already, and another one.
 * @param {string} text
 */
function isAnotherList(text) {
  const kept = readKeptList();
  return Boolean(kept) && kept !== text && !("kind" in openList(kept, book));
}

/** What the list is: another one than the kept, or the one that was kept on a day. */
function tellWhichList() {
  part("another-list", HTMLElement).hidden = !offered;
  const isKept = page.list?.own && !offered && readKeptList();
  const day = isKept ? readListDay() : "";
  // On the day of the visit the stop rules are told in full; from the next day on their signs, with the rest one tap away.
  part("stop", HTMLElement).classList.toggle("folded", Boolean(isKept) && day !== today());
  part("list-day", HTMLElement).textContent = day ? speech.say("phone.list_day", { date: sayDay(day, speech.language, { dateStyle: "long" }) }) : "";
  part("list-day", HTMLElement).hidden = !day;
}

function backToKept() {
  history.replaceState(null, "", location.pathname + location.search);
  start(false);
}

/** @param {boolean} first */
function showMine(first) {
  if (linkWaits) return start(false);
  if (!page.list) return start(first);
  showList(page.list, book, speech, (code) => Boolean(more?.isHurting(code)), async (code, details) => (await loadMore())?.fillHow(code, details));
  part("own-list", HTMLElement).hidden = !readKeptList();
  tellWhichList();
  part("note-over", HTMLElement).hidden = !page.list.picks.some(({ code }) => isPast(book.exercises[code].until));
  if (!canKeep()) note(speech.say(isFull() ? "phone.storage_full" : "phone.no_storage"));
  show("list", first);
}

/** @param {import("./book.js").MyList} list */
function keepForOffline(list) {
  const codes = list.picks.flatMap(({ code }) => [code, ...book.exercises[code].easier.flatMap(([other]) => other || [])]);
  const told = (/** @type {boolean} */ kept) => {
    part("kept", HTMLElement).textContent = speech.say(kept ? "phone.kept" : "phone.not_kept");
  };
  keepOffline([...new Set(codes)], told, (waiting) => {
    part("note-update", HTMLElement).hidden = false;
    part("use-update", HTMLButtonElement).onclick = async () => {
      if (page.busy || !(await useUpdate(waiting))) note(speech.say("phone.update_waits"));
    };
  });
}

/**
 * Links into the page move the view, never the address: that holds the patient's code.  Without a network a link to
 * another page shows what is here all the same.
 * @param {MouseEvent} event
 */
function followInside(event) {
  const link = event.target instanceof Element ? event.target.closest("a") : null;
  const [, id] = link?.getAttribute("href")?.match(/^#(.+)/) ?? [];
  const leavesInVain = link?.protocol.startsWith("http") && !navigator.onLine;
  if (!id && !leavesInVain) return;
  event.preventDefault();
  if (!id) return show("offline");
  if (id === "stop" && more?.openHurts()) return;
  if (id === "stop") part(id, HTMLElement).classList.remove("folded");
  const target = document.getElementById(id);
  const usable = target?.checkVisibility() ? target : document.getElementById("read-this");
  usable?.scrollIntoView();
  if (usable?.hasAttribute("tabindex")) usable.focus({ preventScroll: true });
}

/** Begins when the fonts are there, or soon after in any case: text that stands must not move.  Only who reads the log knows what hurt. */
async function openPage() {
  const { fontFamily } = getComputedStyle(document.body);
  const fonts = ["400", "700"].map((weight) => document.fonts.load(`${weight} 1em ${fontFamily}`, document.title));
  const log = keepsLog() ? loadMore() : null;
  await Promise.race([Promise.allSettled([...fonts, log]), new Promise((done) => setTimeout(done, LONGEST_WAIT))]);
  const late = log && !more;
  start(true);
  if (late && (await log) && document.body.dataset.view === "list") showMine(true);
}

part("start", HTMLElement).addEventListener("click", async () => (await loadMore())?.startSession());
part("to-log", HTMLElement).addEventListener("click", async () => (await loadMore())?.openLogView());
part("own-list", HTMLElement).addEventListener("click", backToKept);
part("from-offline", HTMLElement).addEventListener("click", () => history.back());
part("back-to-list", HTMLElement).addEventListener("click", backToKept);
part("keep-list", HTMLElement).addEventListener("click", () => {
  keepList(offered);
  start(false);
});
document.addEventListener("click", followInside);
const strip = document.querySelector(".strip");
// With large text the strip has more lines: buttons that stay in view stand above all of them.
if (strip) new ResizeObserver(() => document.documentElement.style.setProperty("--strip", `${strip.getBoundingClientRect().height}px`)).observe(strip);
addEventListener("popstate", () => {
  if (!more?.goBackTo(history.state?.view ?? "list")) showMine(false);
});
addEventListener("hashchange", () => {
  if (page.busy) linkWaits = true;
  else start(false);
});
if (location.protocol.startsWith("http")) document.head.append(make("link", { rel: "manifest", href: "manifest.webmanifest" }));
sayState();
openPage();
