/** The page to go to after signing in: a path of our own, never another host's. */
export function safeWayBack(back: unknown): string {
  if (typeof back !== "string" || !/^\/[^/\\]/.test(back)) return "/";
  const here = "http://here.invalid";
  const url = URL.canParse(back, here) ? new URL(back, here) : null;
  return url && url.origin === here && !url.pathname.startsWith("/sign-in") ? `${url.pathname}${url.search}` : "/";
}
