/**
 * The service worker: pages without a connection.  One serves the patient's page of a language, one the clinician's
 * pages of the whole site.  The build fills in the exact files of one version and their hashes; a version is kept
 * whole or not at all, and never replaced by itself while a page is open.  Addresses are used without what follows
 * "#" or "?", and nothing is written down.
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

async function isExact(address, response) {
  const digest = await crypto.subtle.digest("SHA-256", await response.arrayBuffer());
  const hex = Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
  const wanted = HASHES.get(address) ?? address.split(".").at(-2);
  return Boolean(wanted) && hex.startsWith(wanted);
}

/** Adds files that are not kept yet; all are fetched before the first is kept. */
async function keepFiles(paths) {
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

async function answer(request) {
  const address = new URL(request.url);
  address.hash = "";
  address.search = "";
  const wanted = address.href.endsWith("/") ? `${address.href}index.html` : address.href;
  const cache = (await caches.has(CACHE)) ? await caches.open(CACHE) : null;
  return (await cache?.match(wanted)) ?? fetch(request);
}

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(clearUp()));
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "GET" && new URL(request.url).origin === self.location.origin) event.respondWith(answer(request));
});
self.addEventListener("message", (event) => {
  const { use, keep, more } = event.data ?? {};
  // Only a tap on "use the new version" sends this; a session under way never does.
  if (use === "waiting") self.skipWaiting();
  if (!Array.isArray(keep)) return;
  const codes = keep.filter((code) => typeof code === "string");
  event.waitUntil(keepPicks(codes, more === true).then(() => event.ports[0]?.postMessage({ kept: true }), () => event.ports[0]?.postMessage({ kept: false })));
});
