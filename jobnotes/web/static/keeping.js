// Keeps this page and what it is made of, so that it opens without Wi-Fi; let go of at signing out.
const NAME = "bench";

async function keep() {
  await navigator.serviceWorker.register("/static/offline.js", { scope: "/bench" });
  const parts = performance.getEntriesByType("resource").map((one) => new URL(one.name).pathname);
  // The page comes last: where it is kept, all that it is made of is.
  const paths = new Set([...parts.filter((path) => path.startsWith("/static/")), location.pathname]);
  const cache = await caches.open(NAME);
  for (const path of paths) {
    const answer = await fetch(path);
    if (answer.ok && !answer.redirected) await cache.put(path, answer);
  }
}

export function keepThisPage() {
  if (!navigator.serviceWorker) return;
  keep().catch(() => {}); // without Wi-Fi it was kept before
  document.querySelector("form[action='/sign-out']")?.addEventListener("submit", () => caches.delete(NAME));
}
