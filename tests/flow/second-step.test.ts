import { expect, it } from "vitest";
import type { SignIn } from "@/lib/access/sign-in";
import { secretOf, totp } from "../support/authenticator";
import { eachDatabase } from "../support/database";
import { cookieHeader, goodPassword, guess, host, makeAdministrator, signInAt } from "../support/signing-in";

/** Each request comes from an address of its own, so that the limit of each address is not what is tested. */
let peers = 1;
const email = "r.amsel@linden.example";

async function ask(signIn: SignIn, path: string, body: object, cookies: readonly string[]) {
  const headers = {
    "content-type": "application/json",
    host,
    origin: `https://${host}`,
    "x-platewarden-peer": `192.0.2.${++peers}`,
    cookie: cookieHeader(cookies),
  };
  const answer = await signIn.handler(
    new Request(`https://${host}/api/auth/${path}`, { method: "POST", headers, body: JSON.stringify(body) }),
  );
  return {
    status: answer.status,
    body: (await answer.json().catch(() => ({}))) as Record<string, unknown>,
    cookies: answer.headers.getSetCookie(),
  };
}

it("the test's authenticator gives the codes of RFC 6238, appendix B (SHA-1, eight figures)", () => {
  const secret = Buffer.from("12345678901234567890");
  expect([59, 1_111_111_109, 1_234_567_890, 2_000_000_000].map((seconds) => totp(secret, seconds * 1000, 8))).toEqual([
    "94287082",
    "07081804",
    "89005924",
    "69279037",
  ]);
});

eachDatabase("the second step of signing in", (open) => {
  it("is set up with the password and a right code; then the password alone opens nothing, and a kept code opens once", async () => {
    const { db, close } = await open();
    await makeAdministrator(db);
    const signIn = signInAt(db, () => new Date());
    const { cookies } = await guess(signIn, { email });
    expect((await ask(signIn, "two-factor/enable", { password: "wrong altogether" }, cookies)).status).toBe(400);
    const made = await ask(signIn, "two-factor/enable", { password: goodPassword }, cookies);
    const secret = secretOf(String(made.body["totpURI"]));
    expect((await guess(signIn, { email })).cookies.join()).toContain("session_token");
    expect((await ask(signIn, "two-factor/verify-totp", { code: totp(secret, Date.now() - 600_000) }, cookies)).status).toBe(401);
    expect((await ask(signIn, "two-factor/verify-totp", { code: totp(secret, Date.now()) }, cookies)).status).toBe(200);

    const half = await guess(signIn, { email });
    expect(half.status).toBe(200);
    const session = (lines: readonly string[]) => signIn.api.getSession({ headers: new Headers({ cookie: cookieHeader(lines) }) });
    expect(await session(half.cookies)).toBeNull();
    expect((await ask(signIn, "two-factor/verify-totp", { code: "000000" }, half.cookies)).status).toBe(401);
    const whole = await ask(signIn, "two-factor/verify-totp", { code: totp(secret, Date.now()) }, half.cookies);
    expect((await session(whole.cookies))?.user.email).toBe(email);

    const [kept = ""] = made.body["backupCodes"] as string[];
    const lost = await guess(signIn, { email });
    expect((await ask(signIn, "two-factor/verify-backup-code", { code: kept }, lost.cookies)).status).toBe(200);
    const again = await guess(signIn, { email });
    expect((await ask(signIn, "two-factor/verify-backup-code", { code: kept }, again.cookies)).status).toBe(401);
    const stored = await db.twoFactor.findFirstOrThrow();
    expect(stored.secret).not.toContain(String(new URL(String(made.body["totpURI"])).searchParams.get("secret")));
    expect(stored.backupCodes).not.toContain(kept);
    await close();
  });
});
