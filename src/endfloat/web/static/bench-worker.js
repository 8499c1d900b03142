// Keeps the pages that were seen, so that a reload at the bench works when the workshop computer does not answer.
"use strict";

const KEPT = "endfloat-pages";
const NOT_KEPT = `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Not kept on this device</title><link rel="stylesheet" href="/static/style.css"><main><h1>This page is not kept on this device</h1>
<p>The workshop computer does not answer. What you entered stays on this device. Go back in the browser and go on there, or <a href="">try again</a>.</p></main></html>`;

self.addEventListener("install", (event) => {
  const first = ["/static/style.css", "/static/joint.css", "/static/strip.css", "/static/outbox.js", "/static/bench.js",
    "/static/away.js", "/static/steps-away.js", "/static/joint-away.js", "/static/strip-away.js", "/static/clocks.js",
    "/font/AtkinsonHyperlegible-Regular.ttf", "/font/AtkinsonHyperlegible-Bold.ttf"];
  event.waitUntil(caches.open(KEPT).then((cache) => cache.addAll(first)).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

const fresh = async (request) => {
  const cache = await caches.open(KEPT);
  try {
    const answer = await fetch(request);
    if (answer.ok && !answer.redirected) {
      const copy = answer.clone();
      // of a page only the newest stays: an older one would tell what to do that was done since
      if (request.mode === "navigate") await cache.delete(request, { ignoreSearch: true });
      await cache.put(request, copy);
    }
    return answer;
  } catch (failure) {
    const kept = await cache.match(request) || await cache.match(request, { ignoreSearch: true });
    if (kept) return kept;
    if (request.mode === "navigate") return new Response(NOT_KEPT, { status: 503, headers: { "Content-Type": "text/html; charset=utf-8" } });
    throw failure;
  }
};

self.addEventListener("fetch", (event) => {
  const address = new URL(event.request.url);
  if (event.request.method === "GET" && address.origin === self.location.origin && address.pathname !== "/alive") {
    event.respondWith(fresh(event.request));
  }
});
