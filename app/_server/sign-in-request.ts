import { parseSetCookieHeader, toCookieOptions } from "better-auth/cookies";
import { cookies, headers } from "next/headers";
import { lockedStart } from "@/lib/access/lockout";
import { peerAddressHeader, wrongSentence } from "@/lib/access/sign-in";
import { getSignIn } from "./sign-in";

/** What the sign-in needs to see of the request; nothing else a client sent goes on. */
const passedOn = ["origin", "host", "user-agent", "cookie", "sec-fetch-site", "sec-fetch-mode", "sec-fetch-dest", peerAddressHeader];

/** What the sign-in library answered: its JSON, or the one sentence to show. */
export type SignInAnswer =
  | { readonly ok: true; readonly body: Readonly<Record<string, unknown>> }
  | { readonly ok: false; readonly problem: string };

/**
 * Asks the sign-in library through its own request handler, so that its limits apply as well, and hands its cookies to the browser.
 * `wrong` is the sentence for an answer that was refused without one of ours.
 */
export async function askSignIn(path: string, body: object, wrong: string = wrongSentence): Promise<SignInAnswer> {
  const incoming = await headers();
  const outgoing = new Headers({ "content-type": "application/json" });
  for (const name of passedOn) {
    const value = incoming.get(name);
    if (value !== null) outgoing.set(name, value);
  }
  const request = new Request(`http://localhost/api/auth/${path}`, { method: "POST", headers: outgoing, body: JSON.stringify(body) });
  const answer = await getSignIn().handler(request);
  if (!answer.ok) return { ok: false, problem: await problemOf(answer, wrong) };
  const jar = await cookies();
  for (const line of answer.headers.getSetCookie()) {
    for (const [name, attributes] of parseSetCookieHeader(line)) {
      jar.set(name, decodeURIComponent(attributes.value), toCookieOptions(attributes));
    }
  }
  return { ok: true, body: ((await answer.json().catch(() => null)) ?? {}) as Record<string, unknown> };
}

/** Signs a person in with a password; `second` when a code of their authenticator is asked for next. */
export async function signInWith(email: string, password: string): Promise<"done" | "second" | { readonly problem: string }> {
  const answer = await askSignIn("sign-in/email", { email: email.trim(), password });
  if (!answer.ok) return answer;
  return answer.body["twoFactorRedirect"] === true ? "second" : "done";
}

async function problemOf(answer: Response, wrong: string): Promise<string> {
  const body = (await answer.json().catch(() => null)) as { message?: string } | null;
  if (answer.status === 429) {
    return body?.message?.startsWith(lockedStart) ? body.message : "Too many attempts from here: wait a minute, then try again.";
  }
  return answer.status === 403 && body?.message ? body.message : wrong;
}
