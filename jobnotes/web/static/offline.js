// A service worker: pages of the bench that were opened before open without Wi-Fi too.
addEventListener("install", () => skipWaiting());
addEventListener("activate", (event) => event.waitUntil(clients.claim()));

addEventListener("fetch", (event) => {
  const { method, mode, url } = event.request;
  const kept = mode === "navigate" || new URL(url).pathname.startsWith("/static/");
  if (method !== "GET" || !kept) return;
  event.respondWith(fetch(event.request).catch(async () => (await caches.match(url)) ?? Response.error()));
});
