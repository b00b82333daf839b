import { expect, it } from "vitest";
import { findActor } from "@/lib/access/find-actor";
import { askForReset, type ResetMail, resetByLink } from "@/lib/access/forgotten-password";
import { acceptInvitation, findInvitations, invitePerson, readInvitation, withdrawInvitation } from "@/lib/access/invitation";
import { changeOwnPassword, endSessions, ownAccount } from "@/lib/access/own-account";
import { Refused } from "@/lib/access/refusal";
import { tokenHash } from "@/lib/access/secret-link";
import type { Store } from "@/lib/store/client";
import { verifyRecord } from "@/lib/store/verify-record";
import { makeActor, makeSite } from "@/seed/builders";
import { eachDatabase } from "../support/database";
import { cookieHeader, goodPassword, guess, makeAdministrator, signInAt } from "../support/signing-in";

const start = new Date("2026-03-02T09:00:00Z");
const later = (days: number) => new Date(start.getTime() + days * 86_400_000);
const password = "seven slow lanterns";
const invited = { email: "H.Dohle@linden.example", name: "H. Dohle", role: "surveyor" as const, sites: "all" as const };

eachDatabase("links of accounts", (open) => {
  const inHouse = async (test: (house: { db: Store; actor: Awaited<ReturnType<typeof actorOf>>; userId: string }) => Promise<void>) => {
    const { db, close } = await open();
    const { userId } = await makeAdministrator(db);
    await test({ db, userId, actor: await actorOf(db, userId) }).finally(close);
  };

  it("invite: the link works once, for a week, and only its hash is kept", () =>
    inHouse(async ({ db, actor }) => {
      const { token } = await invitePerson(db, actor, { ...invited, now: start });
      expect(token).toMatch(/^[\w-]{43}$/);
      expect(JSON.stringify(await db.secretLink.findMany())).not.toContain(token);
      expect((await db.secretLink.findFirstOrThrow()).tokenHash).toBe(tokenHash(token));
      expect(await readInvitation(db, { token, now: start })).toMatchObject({ organisation: "Linden Estates", role: "surveyor" });
      await expect(readInvitation(db, { token, now: later(7) })).rejects.toThrow(/run out/);
      await expect(acceptInvitation(db, { token, name: "H. Dohle", password: "short", now: start })).rejects.toThrow(/at least/);
      await expect(acceptInvitation(db, { token, name: " ", password, now: start })).rejects.toThrow(/your name/);
      const given = { token, name: "Hanna Dohle", password, now: start };
      const both = await Promise.allSettled([acceptInvitation(db, given), acceptInvitation(db, given)]);
      expect(both.map(({ status }) => status).sort()).toEqual(["fulfilled", "rejected"]);
      const user = await db.user.findUniqueOrThrow({ where: { email: "h.dohle@linden.example" } });
      expect(await findActor(db, user.id)).toMatchObject({ actor: { role: "surveyor", name: "Hanna Dohle" } });
      expect(
        (
          await guess(
            signInAt(db, () => start),
            { email: invited.email, password },
          )
        ).status,
      ).toBe(200);
      await expect(readInvitation(db, { token, now: start })).rejects.toThrow(/used already/);
      await expect(invitePerson(db, actor, { ...invited, now: start })).rejects.toThrow(/belongs to this organisation already/);
      expect(await verifyRecord(db, actor.organisationId)).toMatchObject({ broken: null });
    }));

  it("invite: a newer one and a withdrawal close the earlier, and only who manages people may", () =>
    inHouse(async ({ db, actor }) => {
      const first = await invitePerson(db, actor, { ...invited, now: start });
      const second = await invitePerson(db, actor, { ...invited, role: "inspector", now: later(1) });
      await expect(readInvitation(db, { token: first.token, now: later(1) })).rejects.toThrow(/withdrawn/);
      const lines = await findInvitations(db, actor, later(2));
      expect(lines.map(({ state, role }) => [state, role])).toEqual([
        ["open", "inspector"],
        ["withdrawn", "surveyor"],
      ]);
      await withdrawInvitation(db, actor, { id: lines[0]?.id ?? "", now: later(2) });
      await expect(acceptInvitation(db, { token: second.token, name: "X", password, now: later(2) })).rejects.toThrow(/withdrawn/);
      await expect(withdrawInvitation(db, actor, { id: lines[0]?.id ?? "", now: later(2) })).rejects.toThrow(/not open/);
      const manager = await makeActor(db, actor.organisationId, "manager");
      await expect(invitePerson(db, manager, { ...invited, now: start })).rejects.toThrow(Refused);
      await expect(findInvitations(db, manager, start)).rejects.toThrow(Refused);
      const { site } = await makeSite(db, actor.organisationId);
      await expect(invitePerson(db, { ...actor, siteIds: [site.id] }, { ...invited, now: start })).rejects.toThrow();
      for (const email of ["nobody", "a@b\r\nBcc: c@d.example"])
        await expect(invitePerson(db, actor, { ...invited, email, now: start })).rejects.toThrow(/no e-mail address/);
      for (const token of ["", "x", "../..", `${second.token}x`])
        await expect(readInvitation(db, { token, now: start })).rejects.toThrow(/not one of ours/);
    }));

  it("forgotten password: a link for an hour that ends all sessions; unknown addresses get the same answer and no mail", () =>
    inHouse(async ({ db, userId, actor }) => {
      const mails: ResetMail[] = [];
      const ask = (email: string, now = start) => askForReset(db, { email, now, send: async (_, mail) => void mails.push(mail) });
      await ask("nobody@linden.example");
      expect(mails).toEqual([]);
      await guess(
        signInAt(db, () => start),
        { email: "r.amsel@linden.example" },
      );
      await ask(" R.Amsel@linden.example");
      const token = mails[0]?.token ?? "";
      await expect(resetByLink(db, { token, password, now: later(1) })).rejects.toThrow(/run out/);
      await expect(resetByLink(db, { token, password: "amsel", now: start })).rejects.toThrow(/at least/);
      await resetByLink(db, { token, password, now: start });
      await expect(resetByLink(db, { token, password, now: start })).rejects.toThrow(/used already/);
      expect(await db.session.count({ where: { userId } })).toBe(0);
      const signIn = signInAt(db, () => start);
      expect((await guess(signIn, { email: "r.amsel@linden.example" })).status).toBe(401);
      expect((await guess(signIn, { email: "r.amsel@linden.example", password })).status).toBe(200);
      await ask("r.amsel@linden.example");
      await ask("r.amsel@linden.example");
      await ask("r.amsel@linden.example");
      expect(mails).toHaveLength(3);
      await expect(resetByLink(db, { token: mails[1]?.token ?? "", password, now: start })).rejects.toThrow(/withdrawn/);
      expect(await verifyRecord(db, actor.organisationId)).toMatchObject({ broken: null });
    }));

  it("an invitation's link is no reset's", () =>
    inHouse(async ({ db, actor }) => {
      const { token } = await invitePerson(db, actor, { ...invited, now: start });
      await expect(resetByLink(db, { token, password, now: start })).rejects.toThrow(/not one of ours/);
    }));

  it("own account: sessions are listed and ended, the password changed with the present one, guesses counted", () =>
    inHouse(async ({ db, actor, userId }) => {
      const signIn = signInAt(db, () => start);
      const email = "r.amsel@linden.example";
      const { cookies } = await guess(signIn, { email });
      await guess(signIn, { email });
      await guess(signIn, { email });
      const own = await signIn.api.getSession({ headers: new Headers({ cookie: cookieHeader(cookies) }) });
      const sessionId = own?.session.id ?? "";
      const { sessions, hasSecondStep } = await ownAccount(db, actor, { sessionId, now: start });
      expect(sessions.map(({ isThisOne }) => isThisOne).sort()).toEqual([false, false, true]);
      expect(hasSecondStep).toBe(false);
      const other = sessions.find(({ isThisOne }) => !isThisOne)?.id ?? "";
      expect(await endSessions(db, actor, { which: other, sessionId, now: start })).toBe(1);
      const stranger = await makeActor(db, actor.organisationId, "surveyor");
      expect(await endSessions(db, stranger, { which: sessionId, sessionId: "x", now: start })).toBe(0);
      const wrong = { present: "not it at all", password, sessionId, now: start };
      await expect(changeOwnPassword(db, actor, wrong)).rejects.toThrow(/present password is wrong/);
      await expect(changeOwnPassword(db, actor, { ...wrong, present: goodPassword, password: "short" })).rejects.toThrow(/at least/);
      await changeOwnPassword(db, actor, { ...wrong, present: goodPassword });
      expect((await db.session.findMany({ where: { userId } })).map(({ id }) => id)).toEqual([sessionId]);
      for (let i = 0; i < 5; i++) await expect(changeOwnPassword(db, actor, wrong)).rejects.toThrow(/wrong/);
      await expect(changeOwnPassword(db, actor, { ...wrong, present: password })).rejects.toThrow(/Too many/);
    }));
});

async function actorOf(db: Store, userId: string) {
  const home = await findActor(db, userId);
  if (!home) throw new Error("The person has no role.");
  return home.actor;
}
