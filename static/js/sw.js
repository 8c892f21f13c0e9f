// Where HTTPS is trusted, pages of the shed that were seen last open out of range too, marked as what they are, and so do
// those where work begins. The network is always asked first. What is kept belongs to one person, and goes when that
// person does; only the page "No network" is everybody's.
"use strict";

const NO_NETWORK = "/waiting/no-network";
const TYPED = "/tag/";
const BEGINNINGS = ["/waiting/", "/scan/", "/put-away/", "/put-away/?another=1", "/strip/", "/strip/?loose=1", "/stock-take/"];
const KEPT = /^\/$|^\/(t\/[^/]+|where|waiting|scan|put-away|strip|stock-take|kits|boiler-records|p\/\d+|day-sheets|l\/[^/]+\/(day|s\/[^/]+\/together))(\/|$)/i;
const PARTS = /^\/(static\/|photo\/.*\.jpg$)/;
const MOST_PAGES = 80;
const MOST_PARTS = 300;
const PATIENCE_MS = 10_000; // a network that says nothing for so long is out of range, if the page is known
const FRESH_MS = 600_000;
const prefix = "seen-by-";
const everybodys = "everybodys";

self.addEventListener("install", (event) => {
  self.skipWaiting();
  event.waitUntil(keepNoNetwork().catch(() => {})); // at the next page, then
});
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (url.origin !== location.origin) return;
  if (request.mode === "navigate") event.respondWith(request.method === "GET" ? page(event, url) : sent(event));
  else if (request.method === "GET" && PARTS.test(url.pathname)) event.respondWith(part(event));
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
  const known = await lastSeen(event.request, url);
  try {
    const answer = await (known ? inTime(fetch(event.request)) : fetch(event.request));
    if ((answer.headers.get("Content-Type") || "").startsWith("text/html") && answer.status < 500) {
      const copy = answer.clone();
      event.waitUntil(keep(event.request, copy, url).catch(() => {}));
    }
    return answer;
  } catch {
    if (!known) return noNetwork();
    return url.pathname === TYPED ? Response.redirect(tagIn(url)) : asLastSeen(known);
  }
}

// A tag that somebody typed is an address too: read as the server reads it.
function tagIn(url) {
  const text = (url.searchParams.get("code") || "").normalize("NFKC").toUpperCase().replace(/[\s\p{Pd}\p{Cf}]/gu, "");
  const code = /\/T\/([^/?#]+)\/?(?:[?#].*)?$/.exec(text)?.[1] || text;
  return `/t/${encodeURIComponent(code.replace(/O/g, "0").replace(/[IL]/g, "1"))}`;
}

async function lastSeen(request, url) {
  const cache = await seen();
  if (url.pathname === TYPED) return cache?.match(tagIn(url), { ignoreVary: true });
  const begins = BEGINNINGS.includes(url.pathname);
  return (await cache?.match(request, { ignoreVary: true })) || (begins ? cache?.match(url.pathname, { ignoreVary: true }) : undefined);
}

// A form whose sending met no network: what was entered is kept as a draft, and the page goes back to it.
async function sent(event) {
  try {
    return await fetch(event.request);
  } catch {
    return noNetwork();
  }
}

function inTime(promise) {
  return new Promise((resolve, reject) => {
    setTimeout(() => reject(new Error("out of range")), PATIENCE_MS);
    promise.then(resolve, reject);
  });
}

const isTheirs = (answer) => /no-store/.test(answer.headers.get("Cache-Control") || ""); // a shared tablet keeps no pages

async function keep(request, answer, url) {
  const cache = await belongsTo(answer.headers.get("X-Cotter-Whose"));
  if (await isOld(await caches.open(everybodys), NO_NETWORK)) await keepNoNetwork();
  if (!cache || isTheirs(answer) || answer.status !== 200 || answer.redirected) return;
  if (KEPT.test(url.pathname)) await put(cache, request, answer);
  for (const address of BEGINNINGS) if (address !== url.pathname + url.search) await keepBeginning(cache, address);
  await trim(cache, MOST_PAGES, (url) => !PARTS.test(url.pathname) && !BEGINNINGS.includes(url.pathname));
}

async function keepBeginning(cache, address) {
  if (!(await isOld(cache, address))) return;
  const answer = await fetch(address);
  if (answer.status !== 200 || answer.redirected || isTheirs(answer)) return; // not for this person's roles
  await keepPartsOf(cache, await put(cache, address, answer));
}

async function keepNoNetwork() {
  const cache = await caches.open(everybodys);
  const answer = await fetch(NO_NETWORK, { credentials: "omit", cache: "no-store" });
  if (answer.ok && !answer.redirected) await keepPartsOf(cache, await put(cache, NO_NETWORK, answer));
}

// Gives the text.
async function put(cache, request, answer) {
  const headers = new Headers(answer.headers);
  headers.set("X-Seen-At", new Date().toISOString());
  const text = await answer.text();
  await cache.put(request, new Response(text, { headers }));
  return text;
}

async function isOld(cache, address) {
  const known = await cache.match(address, { ignoreVary: true });
  return !known || Date.now() - new Date(known.headers.get("X-Seen-At")) > FRESH_MS;
}

// Its styles and scripts, whose names change with what is in them.
async function keepPartsOf(cache, text) {
  for (const [, address] of text.matchAll(/(?:src|href)="(\/static\/[^"#]+)/g)) {
    if (await caches.match(address, { ignoreVary: true })) continue;
    const answer = await fetch(address);
    if (answer.ok) await cache.put(address, answer);
  }
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
    return (await caches.match(event.request, { ignoreVary: true })) || Response.error();
  }
}

async function trim(cache, most, counts) {
  const keys = (await cache.keys()).filter((request) => counts(new URL(request.url)));
  for (const request of keys.slice(0, Math.max(0, keys.length - most))) await cache.delete(request);
}

// What the browser was sent is unpacked by now.
function plain(headers) {
  const left = new Headers(headers);
  left.delete("Content-Encoding");
  left.delete("Content-Length");
  return left;
}

async function asLastSeen(known) {
  const at = new Date(known.headers.get("X-Seen-At"));
  const today = at.toDateString() === new Date().toDateString();
  const when = new Intl.DateTimeFormat("en-GB", today ? { timeStyle: "short" } : { dateStyle: "long", timeStyle: "short" });
  const words = `As last seen at ${when.format(at)}, no network. What was done since is not on this page.`;
  const mark = `<div class="notice notice-warn" role="status" id="as-last-seen"><div class="notice-body"><p>${words}</p></div></div>`;
  const text = (await known.text()).replace(/<main[^>]*>/, (main) => main + mark);
  return new Response(text, { headers: plain(known.headers) });
}

async function noNetwork() {
  const known = await caches.match(NO_NETWORK, { ignoreVary: true });
  const text = known ? await known.text() : "<!doctype html><title>No network</title><h1>No network</h1>";
  const headers = known ? plain(known.headers) : new Headers({ "Content-Type": "text/html; charset=utf-8" });
  return new Response(text, { status: 503, headers });
}
