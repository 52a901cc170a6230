// Keeps the files of the page, so that it opens without a network after the first visit.
//
// A new version is fetched whole before the old one goes.

const NAME = "wattproof-VERSION";
const FILES = "FILES";

self.addEventListener("install", (event) => {
  const fetched = FILES.map((file) => new Request(file, { cache: "no-cache" }));
  event.waitUntil(caches.open(NAME).then((kept) => kept.addAll(fetched)));
  self.skipWaiting();
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) {
        if (name.startsWith("wattproof-") && name !== NAME) await caches.delete(name);
      }
      await self.clients.claim();
    })(),
  );
});

self.addEventListener("fetch", (event) => {
  if (event.request.method !== "GET") return;
  event.respondWith(
    (async () => {
      const kept = await caches.open(NAME);
      return (await kept.match(event.request, { ignoreSearch: true })) ?? fetch(event.request);
    })(),
  );
});
