import { trustedOrigins } from "@/app/_server/origin";
import { addFirstAdministrator } from "@/lib/access/add-person";
import { makeSignIn, peerAddressHeader, type SignIn } from "@/lib/access/sign-in";
import type { Store } from "@/lib/store/client";

export const goodPassword = "copper kettle morning";
export const host = "plates.linden.example";

/** The sign-in as the web edge makes it, with a clock that the test moves. */
export function signInAt(db: Store, clock: () => Date, publicUrl: string | null = null): SignIn {
  return makeSignIn(db, {
    secret: "0123456789".repeat(4),
    publicUrl,
    trustedOrigins: (request) => trustedOrigins(request?.headers),
    clock,
  });
}

export interface Guess {
  readonly email: string;
  readonly password?: string;
  /** The socket's address as our edge writes it. */
  readonly peer?: string;
  /** What the client itself claims. */
  readonly forwardedFor?: string;
  readonly origin?: string;
}

/** Sends one sign-in through the library's request handler, as the page and the route do. */
export async function guess(signIn: SignIn, { email, password = goodPassword, peer = "192.0.2.1", forwardedFor, origin }: Guess) {
  const headers = new Headers({ "content-type": "application/json", host, origin: origin ?? `https://${host}`, [peerAddressHeader]: peer });
  if (forwardedFor) headers.set("x-forwarded-for", forwardedFor);
  const request = new Request(`https://${host}/api/auth/sign-in/email`, {
    method: "POST",
    headers,
    body: JSON.stringify({ email, password }),
  });
  const answer = await signIn.handler(request);
  const body = (await answer.json().catch(() => null)) as { message?: string } | null;
  return { status: answer.status, message: body?.message ?? "", cookies: answer.headers.getSetCookie() };
}

/** The cookies of an answer as the browser would send them back. */
export function cookieHeader(cookies: readonly string[]): string {
  return cookies.map((line) => line.split(";")[0]).join("; ");
}

/** An organisation with one administrator who can sign in. */
export async function makeAdministrator(db: Store, email = "r.amsel@linden.example") {
  return addFirstAdministrator(db, "Linden Estates", {
    email,
    name: "R. Amsel",
    password: goodPassword,
    now: new Date("2026-01-05T08:00:00Z"),
  });
}
