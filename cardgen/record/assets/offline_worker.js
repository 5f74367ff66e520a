"use strict";
// The service worker of a job: it holds the pages of the record on the phone, and no others.
//
// A page comes from the network where that answers in time, else from the copy. A newer record has
// another digest, so its worker fills a copy of its own and takes the older ones away when all of
// it is there. What is written before this script says which pages, of which revision.
const { pages, revision, digest } = self.RECORD;
const ROOT = new URL("./", self.location);
const OURS = `record ${ROOT.pathname} `; // other jobs of this host have copies of their own
const COPY = `${OURS}${digest}`;
const PATIENCE = 4000; // milliseconds until the copy is shown: our choice
const AT_ONCE = 8; // pages that are fetched side by side

const addressOf = (page) => new URL(page, ROOT).href;
const KNOWN = new Set(pages.map(addressOf));
const SAVED_AT = addressOf("saved_at");

async function keep(copy, page) {
  const answer = await fetch(addressOf(page), { cache: "reload", redirect: "error" });
  if (!answer.ok) throw new Error(page);
  await copy.put(addressOf(page), answer);
}

// All or nothing: where one page fails, the browser drops this worker and tries another day.
async function fillCopy() {
  const copy = await caches.open(COPY);
  for (let start = 0; start < pages.length; start += AT_ONCE) {
    await Promise.all(pages.slice(start, start + AT_ONCE).map((page) => keep(copy, page)));
  }
  await copy.put(SAVED_AT, new Response(`${revision} ${Date.now()}`));
  await self.skipWaiting();
}

async function takeOlderCopiesAway() {
  const names = await caches.keys();
  const older = names.filter((name) => name.startsWith(OURS) && name !== COPY);
  await Promise.all(older.map((name) => caches.delete(name)));
  await self.clients.claim();
}

async function answerFor(request, address) {
  const kept = await (await caches.open(COPY)).match(address);
  if (!kept) return fetch(request);
  try {
    const late = new Promise((_, reject) => setTimeout(reject, PATIENCE));
    const fresh = await Promise.race([fetch(request), late]);
    return fresh.ok ? fresh : kept;
  } catch {
    return kept;
  }
}

self.addEventListener("install", (event) => event.waitUntil(fillCopy()));
self.addEventListener("activate", (event) => event.waitUntil(takeOlderCopiesAway()));
self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  url.hash = "";
  url.search = "";
  if (event.request.method !== "GET" || !url.href.startsWith(ROOT.href)) return;
  if (url.href.endsWith("/")) url.href += "index.html";
  if (KNOWN.has(url.href)) {
    event.respondWith(answerFor(event.request, url.href));
  } else if (event.request.mode === "navigate" && KNOWN.has(`${url.href}/index.html`)) {
    // A web host leads from VB-1 to VB-1/; without it, we do.
    event.respondWith(Response.redirect(`${url.href}/`));
  }
});
