// Where HTTPS is trusted, the pages of pieces and crates that were seen last open out of range too, marked as what they
// are. The network is always asked first. What is kept belongs to one person, and goes when that person does.
"use strict";

const KEPT = /^\/(t\/[^/]+|where\/(\d+\/)?|waiting\/|p\/\d+\/)$/i;
const PARTS = /^\/(static\/|photo\/.*\.jpg$)/;
const MOST_PAGES = 80;
const MOST_PARTS = 300;
const PATIENCE_MS = 10_000; // a network that says nothing for so long is out of range, if the page is known
const prefix = "seen-by-";

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  if (request.mode === "navigate") event.respondWith(page(event, url));
  else if (PARTS.test(url.pathname)) event.respondWith(part(event));
});

// The one cache there is, or none before anybody was seen here.
async function seen() {
  const name = (await caches.keys()).find((key) => key.startsWith(prefix));
  return name ? caches.open(name) : null;
}

// Every page says whose it is; at another person's, or nobody's, everything kept before is forgotten.
async function belongsTo(person) {
  for (const key of await caches.keys()) {
    if (key.startsWith(prefix) && key !== prefix + person) await caches.delete(key);
  }
  return person ? caches.open(prefix + person) : null;
}

async function page(event, url) {
  const known = await (await seen())?.match(event.request, { ignoreVary: true });
  try {
    const answer = await (known ? inTime(fetch(event.request)) : fetch(event.request));
    if ((answer.headers.get("Content-Type") || "").startsWith("text/html") && answer.status < 500) {
      const copy = answer.clone();
      event.waitUntil(keep(event.request, copy, url).catch(() => {}));
    }
    return answer;
  } catch {
    return known ? asLastSeen(known) : notSeen();
  }
}

function inTime(promise) {
  return new Promise((resolve, reject) => {
    setTimeout(() => reject(new Error("out of range")), PATIENCE_MS);
    promise.then(resolve, reject);
  });
}

async function keep(request, answer, url) {
  const cache = await belongsTo(answer.headers.get("X-Cotter-Whose"));
  const theirs = /no-store/.test(answer.headers.get("Cache-Control") || ""); // a shared tablet keeps no pages
  if (!cache || theirs || answer.status !== 200 || answer.redirected || !KEPT.test(url.pathname)) return;
  const headers = new Headers(answer.headers);
  headers.set("X-Seen-At", new Date().toISOString());
  await cache.put(request, new Response(await answer.text(), { headers }));
  await trim(cache, MOST_PAGES, (url) => !PARTS.test(url.pathname));
}

async function part(event) {
  const cache = await seen();
  try {
    const answer = await fetch(event.request);
    if (cache && answer.status === 200 && !answer.redirected) {
      const copy = answer.clone();
      event.waitUntil(cache.put(event.request, copy).then(() => trim(cache, MOST_PARTS, (url) => PARTS.test(url.pathname))));
    }
    return answer;
  } catch {
    return (await cache?.match(event.request, { ignoreVary: true })) || Response.error();
  }
}

async function trim(cache, most, counts) {
  const keys = (await cache.keys()).filter((request) => counts(new URL(request.url)));
  for (const request of keys.slice(0, Math.max(0, keys.length - most))) await cache.delete(request);
}

async function asLastSeen(known) {
  const at = new Date(known.headers.get("X-Seen-At"));
  const today = at.toDateString() === new Date().toDateString();
  const when = new Intl.DateTimeFormat("en-GB", today ? { timeStyle: "short" } : { dateStyle: "long", timeStyle: "short" });
  const words = `As last seen at ${when.format(at)}, no network. What was done since is not on this page.`;
  const mark = `<div class="notice notice-warn" role="status" id="as-last-seen"><div class="notice-body"><p>${words}</p></div></div>`;
  const text = (await known.text()).replace(/<main[^>]*>/, (main) => main + mark);
  const headers = new Headers(known.headers);
  headers.delete("Content-Encoding");
  headers.delete("Content-Length");
  return new Response(text, { headers });
}

function notSeen() {
  const text = `<!doctype html><html lang="en-GB"><head><meta charset="utf-8"><title>No network · Cotter</title>
<meta name="viewport" content="width=device-width, initial-scale=1"></head><body><main><h1>No network</h1>
<p>The server does not answer, and this page was not opened on this phone before. What waits on this phone is safe.</p>
<p><a href="/waiting/">What waits on this phone</a></p></main></body></html>`;
  return new Response(text, { status: 503, headers: { "Content-Type": "text/html; charset=utf-8" } });
}
