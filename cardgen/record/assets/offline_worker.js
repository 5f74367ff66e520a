"use strict";
// The service worker of a job: it holds the pages of the record on the phone, and no others.
//
// A page comes from the network where that answers in time, else from the copy. What was visited is
// kept at once; the rest is fetched page by page, and goes on where it stopped when a page of the
// record is next open. A newer record has another digest, so its worker fills a copy of its own and
// takes the older ones away when all of it is there. What is written before this script says which
// pages, of which revision.
const { pages, revision, digest } = self.RECORD;
const ROOT = new URL("./", self.location);
const OURS = `record ${ROOT.pathname} `; // other jobs of this host have copies of their own
const COPY = `${OURS}${digest}`;
const PATIENCE = 4000; // milliseconds until the copy is shown: our choice
const AT_ONCE = 4; // pages that are fetched side by side: on one bar, few at a time arrive whole

const addressOf = (page) => new URL(page, ROOT).href;
const KNOWN = new Set(pages.map(addressOf));
const SAVED_AT = addressOf("saved_at"); // "REVISION MILLISECONDS" when all is there
const SAVING = addressOf("saving"); // "REVISION ALL", until then

// What was visited is in the browser's own store already, so it costs no signal.
async function keep(copy, address, cache) {
  const answer = await fetch(address, { cache, redirect: "error" });
  if (answer.ok) await copy.put(address, answer);
  return answer.ok;
}

// From the first page that is missing on; a page that fails leaves the rest for another time.
async function fillCopy() {
  const copy = await caches.open(COPY);
  if (await copy.match(SAVED_AT)) return;
  await copy.put(SAVING, new Response(`${revision} ${pages.length}`));
  const kept = new Set((await copy.keys()).map((request) => request.url));
  const missing = [...KNOWN].filter((address) => !kept.has(address));
  for (let start = 0; start < missing.length; start += AT_ONCE) {
    const batch = missing.slice(start, start + AT_ONCE);
    const done = await Promise.all(batch.map((address) => keep(copy, address, "reload")));
    await tellPages();
    if (done.includes(false)) return;
  }
  await copy.put(SAVED_AT, new Response(`${revision} ${Date.now()}`));
  await copy.delete(SAVING);
  await takeOlderCopiesAway();
  await tellPages();
}

let filling = null;

function goOn() {
  filling ??= fillCopy()
    .catch(() => {}) // no signal: it goes on another time
    .finally(() => (filling = null));
  return filling;
}

async function tellPages() {
  for (const page of await self.clients.matchAll()) page.postMessage("saved");
}

async function takeOlderCopiesAway() {
  const names = await caches.keys();
  const older = names.filter((name) => name.startsWith(OURS) && name !== COPY);
  await Promise.all(older.map((name) => caches.delete(name)));
}

function pageOf(text) {
  const url = new URL(text);
  url.hash = "";
  url.search = "";
  if (url.href.endsWith("/")) url.href += "index.html";
  return url.href;
}

// From this copy, else from that of an earlier revision: each page says of which it is.
async function keptPage(address) {
  const own = await (await caches.open(COPY)).match(address);
  if (own) return own;
  const older = (await caches.keys()).filter((name) => name.startsWith(OURS));
  for (const name of older) {
    const found = await (await caches.open(name)).match(address);
    if (found) return found;
  }
  return undefined;
}

async function answerFor(request, address) {
  const kept = await keptPage(address);
  if (!kept) return fetch(request);
  try {
    const late = new Promise((_, reject) => setTimeout(reject, PATIENCE));
    const fresh = await Promise.race([fetch(request), late]);
    return fresh.ok ? fresh : kept;
  } catch {
    return kept;
  }
}

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
// An open page says where it is, when it opens and from time to time.
self.addEventListener("message", (event) => {
  const address = pageOf(event.source.url);
  const visited = async () => {
    if (!KNOWN.has(address)) return;
    const copy = await caches.open(COPY);
    if (!(await copy.match(address))) await keep(copy, address, "force-cache").catch(() => {});
  };
  event.waitUntil(visited().then(goOn));
});
self.addEventListener("fetch", (event) => {
  const address = pageOf(event.request.url);
  if (event.request.method !== "GET" || !address.startsWith(ROOT.href)) return;
  if (KNOWN.has(address)) {
    event.respondWith(answerFor(event.request, address));
  } else if (event.request.mode === "navigate" && KNOWN.has(`${address}/index.html`)) {
    // A web host leads from VB-1 to VB-1/; without it, we do.
    event.respondWith(Response.redirect(`${address}/`));
  }
});
