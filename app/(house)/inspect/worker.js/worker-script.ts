/** Where the browser keeps the inspection pages and their built files. */
export const pageCache = "inspect-pages-1";

/**
 * The service worker of the inspection pages: the newest page while there is a connection; the one kept on the phone when there is none or
 * no answer comes for a while. Built files never change under their name and are answered from the phone. Nothing else passes through it.
 */
export const workerScript = `
const patienceMs = 6000;
self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  if (url.pathname.startsWith("/_next/static/")) event.respondWith(builtFile(request));
  else if (request.mode === "navigate" && /^\\/inspect(\\/|$)/.test(url.pathname)) event.respondWith(page(request, url));
});
const open = () => caches.open("${pageCache}");
async function builtFile(request) {
  const cache = await open();
  const kept = await cache.match(request, { ignoreVary: true });
  if (kept) return kept;
  const answer = await fetch(request);
  if (answer.ok) await cache.put(request, answer.clone());
  return answer;
}
async function page(request, url) {
  url.searchParams.delete("back");
  const kept = await (await open()).match(url.pathname + url.search, { ignoreVary: true });
  try {
    const asked = fetch(request);
    asked.catch(() => undefined);
    const answer = await (kept ? Promise.race([asked, new Promise((_, late) => setTimeout(late, patienceMs))]) : asked);
    // Sent elsewhere means signed out: what was kept for the person goes.
    if (answer.type === "opaqueredirect") await caches.delete("${pageCache}");
    return answer;
  } catch {
    return kept ?? nothingKept();
  }
}
const nothingKept = () => new Response(
  "<!doctype html><html lang=en><meta name=viewport content='width=device-width'><title>No connection</title>"
  + "<h1>No connection</h1><p>This page is not kept on this phone. What you typed is: it comes back with the connection.</p>"
  + "<p><a href='/inspect'>What is kept on this phone</a></p>",
  { status: 503, headers: { "content-type": "text/html; charset=utf-8" } });
`;
