/**
 * The service worker: pages without a connection.  One serves the patient's page of a language, one the clinician's
 * pages of the whole site; one that keeps no page stands in the place of the latter on a patient's phone.  Where a page
 * of the site cannot be had, these two lead to one's own page.  The build fills in the exact files of one version and their hashes; a version is kept
 * whole or not at all.  What the host has now comes first; the kept copy serves where the host cannot be reached or has
 * only a part of a new version.  Addresses are used without what follows "#" or "?", and nothing is written down.
 */
"use strict";
const VERSION = "VERSION";
const PAGES = { "PAGES": "" };
const SHELL = ["SHELL"];
const MEDIA = { "MEDIA": [""] };

const PREFIX = `handouts:${self.registration.scope}:`;
const CACHE = PREFIX + VERSION;
const PICKS = PREFIX + "picks";
const PICKS_KEY = new URL("picks.json", self.registration.scope).href;
const HASHES = new Map(Object.entries(PAGES).map(([path, hash]) => [new URL(path, self.registration.scope).href, hash]));
const MOST_PICKS = 40;
/** Milliseconds that a page waits for the host before the kept copy is shown. */
const LONGEST_WAIT = 4000;
/** By window: the hash of the page that it was given, and since when that copy is kept; nothing where it came from the host. */
const SERVED = new Map();

/**
 * Fetches a file and refuses one that is not exactly of this version: an asset's name carries its hash.  What the
 * browser has already need not come over the wire again; only if it is not right is it asked for anew.
 */
async function fetchExact(address) {
  for (const cache of HASHES.has(address) ? ["no-cache"] : ["default", "reload"]) {
    const response = await fetch(new Request(address, { cache, credentials: "same-origin", redirect: "error" }));
    if (response.ok && (await isExact(address, response.clone()))) return response;
  }
  throw new Error("a file is missing or not of this version");
}

async function hashOf(response) {
  const digest = await crypto.subtle.digest("SHA-256", await response.arrayBuffer());
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

async function isExact(address, response) {
  const hex = await hashOf(response);
  const wanted = HASHES.get(address) ?? address.split(".").at(-2);
  return Boolean(wanted) && hex.startsWith(wanted);
}

/** Adds files that are not kept yet; all are fetched before the first is kept. */
async function keepFiles(paths) {
  if (!paths.length) return;
  const cache = await caches.open(CACHE);
  const missing = [];
  for (const path of paths) {
    const address = new URL(path, self.registration.scope).href;
    if (!(await cache.match(address))) missing.push(address);
  }
  const found = await Promise.all(missing.map(async (address) => [address, await fetchExact(address)]));
  for (const [address, response] of found) await cache.put(address, response);
}

/** The files of what was picked: exercises by code, or languages by tag; what is unknown has none. */
function filesOf(codes) {
  return codes.flatMap((code) => (Object.hasOwn(MEDIA, code) ? MEDIA[code] : []));
}

async function readPicks() {
  if (!(await caches.has(PICKS))) return [];
  const kept = await (await caches.open(PICKS)).match(PICKS_KEY);
  const codes = kept ? await kept.json() : [];
  return Array.isArray(codes) ? codes.filter((code) => typeof code === "string").slice(0, MOST_PICKS) : [];
}

async function install() {
  // What keeps no page has no version to wait for.
  if (!SHELL.length) self.skipWaiting();
  try {
    await keepFiles([...SHELL, ...filesOf(await readPicks())]);
  } catch (fault) {
    await caches.delete(CACHE);
    throw fault;
  }
}

/**
 * Deletes what other versions, or installs that broke off, left behind.  The page of the first visit is taken over
 * at once: from then on a later version has to wait for it.
 */
async function clearUp() {
  for (const name of await caches.keys()) {
    if (name.startsWith(PREFIX) && name !== CACHE && name !== PICKS) await caches.delete(name);
  }
  await self.clients.claim();
}

/** Keeps the files of what was picked, beside what was kept before or in its place, and remembers it for the next version. */
async function keepPicks(picked, beside) {
  const codes = [...new Set(beside ? [...picked, ...(await readPicks())] : picked)];
  await keepFiles([...SHELL, ...filesOf(codes)]);
  await (await caches.open(PICKS)).put(PICKS_KEY, new Response(JSON.stringify(codes.slice(0, MOST_PICKS))));
}

function withoutRest(text) {
  const address = new URL(text);
  address.hash = "";
  address.search = "";
  return address.href.endsWith("/") ? `${address.href}index.html` : address.href;
}

async function keptFile(address) {
  return (await caches.has(CACHE)) ? (await caches.open(CACHE)).match(address) : undefined;
}

function inTime(promise) {
  return Promise.race([promise, new Promise((_, fail) => setTimeout(fail, LONGEST_WAIT, new Error("the host takes too long")))]);
}

/** The addresses of styles, scripts and pictures that a page names. */
function namedIn(text, address) {
  const found = text.matchAll(/(?:src|href)="([^"]*assets\/[^"]+)"/g);
  return [...new Set(Array.from(found, ([, path]) => new URL(path, address).href))];
}

/** The page as the host has it now, with its hash; refused where it is no page of ours or lacks a file that it names. */
async function freshPage(request, address) {
  const response = await fetch(request, { cache: "no-cache" });
  if (response.type === "opaqueredirect") return { response, hash: "" };
  const hash = (await hashOf(response.clone())).slice(0, 16);
  if (hash === HASHES.get(address)) return { response, hash };
  const text = await response.clone().text();
  if (!response.ok || !text.includes('id="page-state"') || !text.trimEnd().endsWith("</html>")) throw new Error("no page of this site");
  await Promise.all(
    namedIn(text, address).map(async (each) => {
      if (!(await keptFile(each)) && !(await fetch(each)).ok) throw new Error("the new version is not whole");
    }),
  );
  return { response, hash };
}

/** What the host has now where it can be had whole; else the kept copy, and since when it is kept. */
async function answerPage(event, address) {
  const kept = await keptFile(address);
  if (!kept) return fetch(event.request);
  const fresh = await inTime(freshPage(event.request, address)).catch(() => null);
  const since = fresh ? undefined : kept.headers.get("date") ?? "";
  SERVED.set(event.resultingClientId, { hash: fresh ? fresh.hash : HASHES.get(address), since });
  return fresh ? fresh.response : kept;
}

/**
 * One's own page of this site, where this device keeps one: a patient's list first, in the language of the page that was
 * wanted if there is a choice; else the clinician's page.
 */
async function ownPage(address) {
  const scope = self.registration.scope;
  const language = address.slice(scope.length).split("/")[0];
  const lists = (await caches.keys()).flatMap((name) => name.match(/^handouts:(.*\/my\/):picks$/)?.[1] ?? []).filter((each) => each.startsWith(scope));
  const list = lists.find((each) => each === `${scope}${language}/my/`) ?? lists[0];
  if (list) return `${list}index.html?offline`;
  const maker = `${scope}${language}/bundle/index.html`;
  return maker !== address && (await keptFile(maker)) ? maker : "";
}

async function find(event, address) {
  if (HASHES.has(address)) return answerPage(event, address);
  return (await keptFile(address)) ?? fetch(event.request);
}

async function answer(event) {
  const address = withoutRest(event.request.url);
  try {
    return await find(event, address);
  } catch (fault) {
    const own = event.request.mode === "navigate" ? await ownPage(address) : "";
    if (own) return Response.redirect(own);
    throw fault;
  }
}

/** What a page may ask: how it was served, and which hash this version has of it. */
function tell(event) {
  event.ports[0]?.postMessage({ served: SERVED.get(event.source?.id), hash: HASHES.get(withoutRest(event.data.page)) });
}

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(clearUp()));
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "GET" && new URL(request.url).origin === self.location.origin) event.respondWith(answer(event));
});
self.addEventListener("message", (event) => {
  const { use, keep, more, page } = event.data ?? {};
  if (typeof page === "string") return tell(event);
  // A tap on "use the new version" sends this, or a page of that version; a session under way never does.
  if (use === "waiting") self.skipWaiting();
  if (!Array.isArray(keep)) return;
  const codes = keep.filter((code) => typeof code === "string");
  event.waitUntil(keepPicks(codes, more === true).then(() => event.ports[0]?.postMessage({ kept: true }), () => event.ports[0]?.postMessage({ kept: false })));
});
