import { parseSetCookieHeader, toCookieOptions } from "better-auth/cookies";
import { cookies, headers } from "next/headers";
import { lockedStart } from "@/lib/access/lockout";
import { peerAddressHeader, wrongSentence } from "@/lib/access/sign-in";
import { getSignIn } from "./sign-in";

/** What the sign-in needs to see of the request; nothing else a client sent goes on. */
const passedOn = ["origin", "host", "user-agent", "cookie", "sec-fetch-site", "sec-fetch-mode", "sec-fetch-dest", peerAddressHeader];

/**
 * Signs a person in through the sign-in library's own request handler, so that its rate limit applies as well, and hands its
 * cookies to the browser. Returns null when done, else the one sentence to show.
 */
export async function signInWith(email: string, password: string): Promise<string | null> {
  const incoming = await headers();
  const outgoing = new Headers({ "content-type": "application/json" });
  for (const name of passedOn) {
    const value = incoming.get(name);
    if (value !== null) outgoing.set(name, value);
  }
  const request = new Request("http://localhost/api/auth/sign-in/email", {
    method: "POST",
    headers: outgoing,
    body: JSON.stringify({ email: email.trim(), password }),
  });
  const answer = await getSignIn().handler(request);
  if (!answer.ok) return problemOf(answer);
  const jar = await cookies();
  for (const line of answer.headers.getSetCookie()) {
    for (const [name, attributes] of parseSetCookieHeader(line)) {
      jar.set(name, decodeURIComponent(attributes.value), toCookieOptions(attributes));
    }
  }
  return null;
}

async function problemOf(answer: Response): Promise<string> {
  const body = (await answer.json().catch(() => null)) as { message?: string } | null;
  if (answer.status === 429) {
    return body?.message?.startsWith(lockedStart) ? body.message : "Too many attempts from here: wait a minute, then try again.";
  }
  return answer.status === 403 && body?.message ? body.message : wrongSentence;
}
