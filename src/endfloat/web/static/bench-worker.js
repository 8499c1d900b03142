// Keeps the pages that were seen, so that a reload at the bench works when the workshop computer does not answer.
"use strict";

const KEPT = "endfloat-pages";

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
    throw failure;
  }
};

self.addEventListener("fetch", (event) => {
  const address = new URL(event.request.url);
  if (event.request.method === "GET" && address.origin === self.location.origin && address.pathname !== "/alive") {
    event.respondWith(fresh(event.request));
  }
});
