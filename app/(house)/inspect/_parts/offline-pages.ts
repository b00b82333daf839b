"use client";

import { pageCache } from "../worker.js/worker-script";

const ownerKey = "inspect-pages-of";
/** The most addresses, pages and built files, that a phone keeps. */
const mostKept = 400;

/** Pages kept for another person of the same phone are dropped. */
export async function forgetOthersPages(userId: string): Promise<void> {
  if (!("caches" in window)) return;
  try {
    if (localStorage.getItem(ownerKey) !== userId) await caches.delete(pageCache);
    localStorage.setItem(ownerKey, userId);
  } catch {
    // Without storage nothing is kept, so nothing is to be dropped.
  }
}

/** The worker that answers for inspection pages while there is no connection. A browser without one works as before. */
export async function registerWorker(): Promise<void> {
  if (!("serviceWorker" in navigator)) return;
  await navigator.serviceWorker.register("/inspect/worker.js", { scope: "/inspect" }).catch(() => undefined);
}

/** A page without the address that it goes back to: it is kept once, wherever one came from. */
function keptAddress(address: string): string {
  const url = new URL(address, location.origin);
  url.searchParams.delete("back");
  return url.pathname + url.search;
}

/** Keeps pages and the built files they need, so that they open without a connection. Says how many could not be kept. */
export async function keepPages(addresses: readonly string[]): Promise<number> {
  if (!("caches" in window) || !("serviceWorker" in navigator)) return addresses.length;
  let missing = 0;
  for (const address of addresses) if (!(await keepPage(address).catch(() => false))) missing++;
  await dropOldest().catch(() => undefined);
  return missing;
}

async function keepPage(address: string): Promise<boolean> {
  const answer = await fetch(address);
  // Signed out meanwhile: the sign-in page is not this page.
  if (!answer.ok || answer.redirected) return false;
  const cache = await caches.open(pageCache);
  const built = new Set((await answer.clone().text()).match(/\/_next\/static\/[\w./~-]+\.\w+/g));
  await cache.put(keptAddress(address), answer);
  const known = await Promise.all([...built].map(async (file) => ((await cache.match(file)) ? [] : [file])));
  const added = await Promise.allSettled(known.flat().map((file) => cache.add(file)));
  return added.every(({ status }) => status === "fulfilled");
}

async function dropOldest(): Promise<void> {
  const cache = await caches.open(pageCache);
  const all = await cache.keys();
  await Promise.all(all.slice(0, Math.max(0, all.length - mostKept)).map((request) => cache.delete(request)));
}
