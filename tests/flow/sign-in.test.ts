import { expect, it } from "vitest";
import { commandLineActor } from "@/lib/access/actor";
import { addPerson } from "@/lib/access/add-person";
import { endMembership } from "@/lib/access/change-person";
import { findActor } from "@/lib/access/find-actor";
import { lockout } from "@/lib/access/lockout";
import { noRoleSentence } from "@/lib/access/sign-in";
import type { Store } from "@/lib/store/client";
import { eachDatabase } from "../support/database";
import { cookieHeader, goodPassword, guess, host, makeAdministrator, signInAt } from "../support/signing-in";

const start = new Date("2026-03-02T09:00:00Z");
const later = (ms: number) => new Date(start.getTime() + ms);
const email = "r.amsel@linden.example";
const wrong = "not the password at all";

eachDatabase("signing in", (open) => {
  const withAccount = async (test: (db: Store, organisationId: string, userId: string) => Promise<void>) => {
    const { db, close } = await open();
    const { organisationId, userId } = await makeAdministrator(db);
    await test(db, organisationId, userId).finally(close);
  };

  it("gives a session for the right password, in a cookie that scripts cannot read and other sites do not send", () =>
    withAccount(async (db, organisationId, userId) => {
      const signIn = signInAt(db, () => start);
      const { status, cookies } = await guess(signIn, { email: "R.Amsel@Linden.example" });
      expect(status).toBe(200);
      const session = cookies.find((line) => line.includes("session_token")) ?? "";
      expect(session).toMatch(/HttpOnly/i);
      expect(session).toMatch(/SameSite=Lax/i);
      const found = await signIn.api.getSession({ headers: new Headers({ cookie: cookieHeader(cookies) }) });
      expect(found?.user.id).toBe(userId);
      expect(await findActor(db, userId)).toMatchObject({ actor: { organisationId, role: "administrator", siteIds: "all" } });
      const forged = new Headers({ cookie: cookieHeader(cookies).replace(/session_token=../, "session_token=xx") });
      expect(await signIn.api.getSession({ headers: forged })).toBeNull();
    }));

  it("marks the cookie as secure where the public address is", () =>
    withAccount(async (db) => {
      const plain = await guess(
        signInAt(db, () => start),
        { email },
      );
      const secure = await guess(
        signInAt(db, () => start, `https://${host}`),
        { email },
      );
      expect(plain.cookies.join()).not.toMatch(/;\s*Secure/i);
      for (const line of secure.cookies) expect(line).toMatch(/;\s*Secure/i);
      expect(secure.cookies.join()).toMatch(/__Secure-platewarden/);
    }));

  it("refuses a wrong password and an unknown address with the same answer and no session", () =>
    withAccount(async (db) => {
      const signIn = signInAt(db, () => start);
      const known = await guess(signIn, { email, password: wrong });
      const unknown = await guess(signIn, { email: "nobody@linden.example", password: wrong });
      expect(known.status).toBe(401);
      expect(unknown).toEqual(known);
      expect(await db.session.count()).toBe(0);
    }));

  it("has no public sign-up", () =>
    withAccount(async (db) => {
      const body = JSON.stringify({ email: "stranger@elsewhere.example", password: goodPassword, name: "Stranger" });
      const headers = { "content-type": "application/json", host, origin: `https://${host}`, "x-platewarden-peer": "192.0.2.1" };
      const answer = await signInAt(db, () => start).handler(
        new Request(`https://${host}/api/auth/sign-up/email`, { method: "POST", headers, body }),
      );
      expect(answer.status).toBeGreaterThanOrEqual(400);
      expect(await db.user.count()).toBe(1);
    }));

  it("refuses a request from another site", () =>
    withAccount(async (db) => {
      const { status, cookies } = await guess(
        signInAt(db, () => start),
        { email, origin: "https://evil.example" },
      );
      expect(status).toBe(403);
      expect(cookies).toEqual([]);
    }));

  it("locks an account after five wrong passwords, for the right one too, and opens it by time alone", () =>
    withAccount(async (db) => {
      let now = start;
      const signIn = signInAt(db, () => now);
      for (let i = 0; i < lockout.failures; i += 1) expect((await guess(signIn, { email, password: wrong })).status).toBe(401);
      const locked = await guess(signIn, { email });
      expect(locked).toMatchObject({
        status: 429,
        message: "Too many attempts for this account: wait 15 minutes, then try again.",
        cookies: [],
      });
      now = later(lockout.lockMs - 60_000);
      expect(await guess(signIn, { email })).toMatchObject({ status: 429, message: expect.stringMatching(/wait 1 minute,/) as string });
      now = later(lockout.lockMs + 1);
      expect((await guess(signIn, { email })).status).toBe(200);
      expect(await db.signInAttempt.count()).toBe(0);
    }));

  it("forgets wrong passwords after a right one, and after a quarter of an hour", () =>
    withAccount(async (db) => {
      let now = start;
      const signIn = signInAt(db, () => now);
      for (let i = 0; i < lockout.failures - 1; i += 1) await guess(signIn, { email, password: wrong });
      expect((await guess(signIn, { email })).status).toBe(200);
      for (let i = 0; i < lockout.failures - 1; i += 1) await guess(signIn, { email, password: wrong });
      now = later(lockout.windowMs + 1);
      expect((await guess(signIn, { email, password: wrong })).status).toBe(401);
      expect((await guess(signIn, { email })).status).toBe(200);
    }));

  it("locks an unknown address like a known one", () =>
    withAccount(async (db) => {
      const signIn = signInAt(db, () => start);
      for (let i = 0; i < lockout.failures; i += 1) await guess(signIn, { email: "nobody@linden.example", password: wrong });
      expect((await guess(signIn, { email: "nobody@linden.example" })).status).toBe(429);
    }));

  it("looks at no more than five of many guesses that arrive at once", () =>
    withAccount(async (db) => {
      const signIn = signInAt(db, () => start);
      const answers = await Promise.all(
        Array.from({ length: 12 }, (_, i) => guess(signIn, { email, password: `${wrong} ${i}`, peer: `192.0.2.${i + 1}` })),
      );
      expect(answers.filter(({ status }) => status === 401)).toHaveLength(lockout.failures);
      expect(answers.filter(({ status }) => status === 429)).toHaveLength(12 - lockout.failures);
    }));

  it("is not evaded with invented x-forwarded-for headers, neither the account's lock nor the address's limit", () =>
    withAccount(async (db) => {
      const signIn = signInAt(db, () => start);
      const claimed = (i: number) => `203.0.113.${i}`;
      const sameAccount = [];
      for (let i = 0; i < 7; i += 1)
        sameAccount.push((await guess(signIn, { email, password: wrong, peer: "192.0.2.9", forwardedFor: claimed(i) })).status);
      expect(sameAccount).toEqual([401, 401, 401, 401, 401, 429, 429]);
      const manyAccounts = [];
      for (let i = 0; i < 16; i += 1) {
        const address = `guess${i}@linden.example`;
        manyAccounts.push(
          (await guess(signIn, { email: address, password: wrong, peer: "192.0.2.9", forwardedFor: claimed(100 + i) })).status,
        );
      }
      // Twenty a minute from one address: seven went before.
      expect(manyAccounts).toEqual([...Array<number>(13).fill(401), 429, 429, 429]);
      const neighbour = await guess(signIn, { email: "guess99@linden.example", password: wrong, peer: "198.51.100.7" });
      expect(neighbour.status).toBe(401);
    }));

  it("refuses a person whose membership ended, at the door and inside", () =>
    withAccount(async (db, organisationId) => {
      const actor = commandLineActor(organisationId);
      const person = {
        email: "s.vey@linden.example",
        name: "S. Vey",
        role: "surveyor",
        sites: "all",
        password: goodPassword,
        now: start,
      } as const;
      const { membershipId, userId } = await addPerson(db, actor, person);
      const signIn = signInAt(db, () => start);
      const { cookies } = await guess(signIn, { email: person.email });
      const headers = new Headers({ cookie: cookieHeader(cookies) });
      expect((await signIn.api.getSession({ headers }))?.user.id).toBe(userId);
      await endMembership(db, actor, { membershipId, now: start });
      expect(await signIn.api.getSession({ headers })).toBeNull();
      expect(await findActor(db, userId)).toBeNull();
      expect(await guess(signIn, { email: person.email })).toMatchObject({ status: 403, message: noRoleSentence, cookies: [] });
      expect(await db.session.count({ where: { userId } })).toBe(0);
    }));

  it("takes the first organisation that a person still belongs to", () =>
    withAccount(async (db, organisationId, userId) => {
      const second = await makeAdministrator(db, "t.lund@alder.example");
      const both = { email, name: "R. Amsel", role: "inspector", sites: "all", password: goodPassword, now: start } as const;
      const there = await addPerson(db, commandLineActor(second.organisationId), both);
      expect(there).toMatchObject({ userId, passwordSet: false });
      expect((await findActor(db, userId))?.actor).toMatchObject({ organisationId, role: "administrator" });
      const stand = {
        email: "j.varga@linden.example",
        name: "J. Varga",
        role: "administrator",
        sites: "all",
        password: goodPassword,
        now: start,
      } as const;
      await addPerson(db, commandLineActor(organisationId), stand);
      const first = await db.membership.findFirstOrThrow({ where: { organisationId, userId } });
      await endMembership(db, commandLineActor(organisationId), { membershipId: first.id, now: start });
      expect((await findActor(db, userId))?.actor).toMatchObject({ organisationId: second.organisationId, role: "inspector" });
    }));
});
