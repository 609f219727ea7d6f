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
import { loadScript, loadStyle, loadValue } from "./load.js";
import { keepOffline, useUpdate } from "./offline.js";
import { canKeep, isFull, keepList, keepsLog, readKeptList, readListDay, readRunText, runKey } from "./store.js";

/** Milliseconds that the list waits for the page's fonts. */
const LONGEST_WAIT = 500;
const book = readBook();
const speech = new Speech(book.words);
/** @type {import("./more.js").MyPage} */
const page = {
  book,
  speech,
  list: null,
  plan: "",
  busy: false,
  isLook: location.search === "?look",
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
  const [forms, rest] = await Promise.all([...["more", "exercises"].map((name) => loadValue("handoutsWords", name, book.later)), loadScript(book.more), loadStyle(book.style)]);
  Object.assign(speech.forms, forms);
  for (const code in rest) Object.assign(book.exercises[code], rest[code]);
  if (forms) more ??= /** @type {any} */ (globalThis).handoutsMore?.(page) ?? null;
  if (!more) note(speech.say("phone.not_loaded"));
  return more;
}

/**
 * @param {string} id
 * @param {boolean} [first] the page has just been opened: the reader is at its beginning
 */
function show(id, first = false) {
  for (const view of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll(".view"))) view.hidden = view.id !== id;
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
  if (readList(first)) showAndKeep(first);
}

/**
 * Reads the list of the link, or the kept one; shows at once why there is none.
 * @param {boolean} first
 * @returns {boolean} whether there is a list to show
 */
function readList(first) {
  linkWaits = false;
  const given = location.hash.slice(1);
  const text = given && !document.getElementById(given) ? given : readKeptList();
  if (!text) show("empty", first);
  if (!text) return false;
  const opened = openList(text, book, more?.readFormer);
  if ("kind" in opened && opened.kind === "former") {
    loadMore().then((found) => found && start(first));
    return false;
  }
  if ("kind" in opened) {
    loadMore().then((found) => found?.explain(opened));
    show("refused", first);
    return false;
  }
  const other = text === given && opened.language !== book.language ? book.tongues[opened.language] : "";
  if (other) location.replace(`${other}#${given}`);
  if (other) return false;
  page.list = opened.list;
  page.plan = text;
  offered = opened.list.own && text === given && isAnotherList(text) ? text : "";
  if (opened.list.own && text === given && !offered && !page.isLook) keepList(text);
  page.busy = readRunText().startsWith(runKey(opened.list));
  return true;
}

/** @param {boolean} first */
function showAndKeep(first) {
  showMine(first);
  if (page.list?.own && !page.isLook) keepForOffline(page.list);
}

/**
 * Whether this phone keeps a list of this library already, and another one.
 * @param {string} text
 */
function isAnotherList(text) {
  const kept = readKeptList();
  const opened = openList(kept, book, more?.readFormer);
  return Boolean(kept) && kept !== text && (!("kind" in opened) || opened.kind === "former");
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
  more?.tellToday();
  part("own-list", HTMLElement).hidden = !readKeptList();
  tellWhichList();
  part("note-over", HTMLElement).hidden = !page.list.picks.some(({ code }) => isPast(book.exercises[code].until));
  part("to-log", HTMLElement).hidden = page.isLook;
  if (page.isLook) note(speech.say("phone.look"));
  else if (!canKeep()) note(speech.say(isFull() ? "phone.storage_full" : "phone.no_storage"));
  show("list", first);
}

/** @param {import("./book.js").MyList} list */
function keepForOffline(list) {
  const told = (/** @type {boolean} */ kept) => {
    part("kept", HTMLElement).textContent = speech.say(kept ? "phone.kept" : "phone.not_kept");
  };
  keepOffline(list.picks.map(({ code }) => code), told, (waiting) => {
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

/** A task of its own for what comes next, where the browser offers it: a slow phone answers a tap between two. */
const nextTask = () => /** @type {any} */ (globalThis).scheduler?.yield?.();

/**
 * Begins when the fonts of the page's head are there, both weights of them, or soon after in any case: text that stands must not
 * move.  Only who reads the log knows what hurt.
 */
async function openPage() {
  document.body.getBoundingClientRect(); // once the head is laid out, its fonts are on their way
  const log = keepsLog() ? loadMore() : null;
  await Promise.race([Promise.allSettled([document.fonts.ready, log]), new Promise((done) => setTimeout(done, LONGEST_WAIT))]);
  await nextTask();
  const late = log && !more;
  // a worker leads here from a page of the site that cannot be had now
  const isAway = location.search === "?offline";
  if (isAway) history.replaceState(null, "", location.pathname);
  const isThere = readList(true);
  await nextTask();
  if (isThere) showAndKeep(true);
  if (isAway && page.list) return show("offline");
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
