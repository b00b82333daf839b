import { expect, it } from "vitest";
import { type Actor, commandLineActor, type Role } from "@/lib/access/actor";
import { addPerson, type NewPerson } from "@/lib/access/add-person";
import { changePerson, endMembership, resetPassword } from "@/lib/access/change-person";
import { findActor } from "@/lib/access/find-actor";
import { findPeople } from "@/lib/access/find-people";
import { Refused } from "@/lib/access/refusal";
import type { Store } from "@/lib/store/client";
import { verifyRecord } from "@/lib/store/verify-record";
import { makeActor, makeSite } from "@/seed/builders";
import { eachDatabase } from "../support/database";
import { goodPassword, guess, makeAdministrator, signInAt } from "../support/signing-in";

const now = new Date("2026-03-02T09:00:00Z");
const person = (changes: Partial<NewPerson> = {}): NewPerson => ({
  email: "s.vey@linden.example",
  name: "S. Vey",
  role: "surveyor",
  sites: "all",
  password: goodPassword,
  now,
  ...changes,
});

eachDatabase("people", (open) => {
  const inHouse = async (test: (db: Store, actor: Actor, membershipId: string) => Promise<void>) => {
    const { db, close } = await open();
    const { organisationId, membershipId } = await makeAdministrator(db);
    await test(db, commandLineActor(organisationId), membershipId).finally(close);
  };

  it("are added with a role and sites, and can sign in", () =>
    inHouse(async (db, actor) => {
      const { site } = await makeSite(db, actor.organisationId);
      const { userId } = await addPerson(db, actor, person({ sites: [site.id] }));
      expect((await findActor(db, userId))?.actor).toMatchObject({ role: "surveyor", siteIds: [site.id], name: "S. Vey" });
      expect(
        (
          await guess(
            signInAt(db, () => now),
            { email: "s.vey@linden.example" },
          )
        ).status,
      ).toBe(200);
    }));

  it.each([
    [{ email: "no address" }, /no e-mail address/],
    [{ name: "  " }, /Give the person's name/],
    [{ password: "short" }, /5 characters: take at least 12/],
    [{ sites: [] }, /Choose at least one site/],
    [{ sites: ["11111111-1111-4111-8111-111111111111"] }, /not in this organisation/],
    [{ email: "R.AMSEL@linden.example" }, /belongs to this organisation already/],
  ] as [Partial<NewPerson>, RegExp][])("are not added, and nothing is left behind, for %j", (changes, sentence) =>
    inHouse(async (db, actor) => {
      await expect(addPerson(db, actor, person(changes))).rejects.toThrow(sentence);
      expect(await db.user.count()).toBe(1);
      expect(await db.recordEntry.count()).toBe(1);
    }),
  );

  it("come back under the same account with the new password after they left", () =>
    inHouse(async (db, actor) => {
      const first = await addPerson(db, actor, person());
      await endMembership(db, actor, { membershipId: first.membershipId, now });
      const again = await addPerson(db, actor, person({ role: "inspector", password: "another long phrase" }));
      expect(again).toMatchObject({ userId: first.userId, membershipId: first.membershipId, passwordSet: true });
      const signIn = signInAt(db, () => now);
      expect((await guess(signIn, { email: "s.vey@linden.example" })).status).toBe(401);
      expect((await guess(signIn, { email: "s.vey@linden.example", password: "another long phrase" })).status).toBe(200);
    }));

  it("keep at least one administrator with all sites, whatever is tried", () =>
    inHouse(async (db, actor, membershipId) => {
      const { site } = await makeSite(db, actor.organisationId);
      const sentence = /last administrator/;
      await expect(changePerson(db, actor, { membershipId, role: "manager", sites: "all", now })).rejects.toThrow(sentence);
      await expect(changePerson(db, actor, { membershipId, role: "administrator", sites: [site.id], now })).rejects.toThrow(sentence);
      await expect(endMembership(db, actor, { membershipId, now })).rejects.toThrow(sentence);
      expect(await db.membership.findUnique({ where: { id: membershipId } })).toMatchObject({ role: "administrator", endedAt: null });
    }));

  it("keep one of two administrators who demote each other at the same moment", () =>
    inHouse(async (db, actor, membershipId) => {
      const second = await addPerson(db, actor, person({ role: "administrator" }));
      const demote = (id: string) => changePerson(db, actor, { membershipId: id, role: "manager", sites: "all", now });
      const results = await Promise.allSettled([demote(membershipId), demote(second.membershipId)]);
      expect(results.map(({ status }) => status).sort()).toEqual(["fulfilled", "rejected"]);
      expect(await db.membership.count({ where: { role: "administrator", endedAt: null } })).toBe(1);
    }));

  it("are changed by role and sites from the next look on, and the record says what was", () =>
    inHouse(async (db, actor) => {
      const { site } = await makeSite(db, actor.organisationId);
      const { membershipId, userId } = await addPerson(db, actor, person());
      await changePerson(db, actor, { membershipId, role: "inspector", sites: [site.id], now });
      expect((await findActor(db, userId))?.actor).toMatchObject({ role: "inspector", siteIds: [site.id] });
      const entry = await db.recordEntry.findFirstOrThrow({ where: { what: "changed person" } });
      expect(entry).toMatchObject({ before: { role: "surveyor", sites: "all" }, after: { role: "inspector", sites: [site.id] } });
      expect(JSON.stringify(await db.recordEntry.findMany())).not.toMatch(/Vey|linden\.example/);
      expect(await verifyRecord(db, actor.organisationId)).toMatchObject({ entries: 3, broken: null });
    }));

  it("get a new password from an administrator, which ends their sessions, but not where another organisation uses the account", () =>
    inHouse(async (db, actor) => {
      const { membershipId, userId } = await addPerson(db, actor, person());
      const signIn = signInAt(db, () => now);
      await guess(signIn, { email: "s.vey@linden.example" });
      await resetPassword(db, actor, { membershipId, password: "another long phrase", now });
      expect(await db.session.count({ where: { userId } })).toBe(0);
      expect((await guess(signIn, { email: "s.vey@linden.example", password: "another long phrase" })).status).toBe(200);
      await expect(resetPassword(db, actor, { membershipId, password: "s.vey-s.vey", now })).rejects.toThrow(/at least 12/);
      const other = await makeAdministrator(db, "t.lund@alder.example");
      await addPerson(db, commandLineActor(other.organisationId), person());
      await expect(resetPassword(db, actor, { membershipId, password: "a third long phrase", now })).rejects.toThrow(
        /another organisation/,
      );
    }));

  it.each(["manager", "surveyor", "inspector"] as Role[])("are nothing a %s may see or change", (role) =>
    inHouse(async (db, { organisationId }, membershipId) => {
      const actor = await makeActor(db, organisationId, role);
      await expect(findPeople(db, actor)).rejects.toThrow(Refused);
      await expect(addPerson(db, actor, person())).rejects.toThrow(Refused);
      await expect(changePerson(db, actor, { membershipId, role: "manager", sites: "all", now })).rejects.toThrow(Refused);
      await expect(resetPassword(db, actor, { membershipId, password: goodPassword, now })).rejects.toThrow(Refused);
      await expect(endMembership(db, actor, { membershipId, now })).rejects.toThrow(Refused);
    }),
  );

  it("of other sites are out of reach for an administrator who is limited to one", () =>
    inHouse(async (db, house, membershipId) => {
      const [north, south] = [await makeSite(db, house.organisationId, "North"), await makeSite(db, house.organisationId, "South")];
      const actor = await makeActor(db, house.organisationId, "administrator", [north.site.id]);
      const southern = await addPerson(db, house, person({ sites: [south.site.id] }));
      const northern = await addPerson(db, actor, person({ email: "n.berg@linden.example", name: "N. Berg", sites: [north.site.id] }));
      expect((await findPeople(db, actor)).map(({ membershipId: id }) => id)).not.toContain(southern.membershipId);
      await expect(endMembership(db, actor, { membershipId, now })).rejects.toThrow(Refused);
      await expect(endMembership(db, actor, { membershipId: southern.membershipId, now })).rejects.toThrow(Refused);
      const widen = { membershipId: northern.membershipId, role: "administrator", sites: "all", now } as const;
      await expect(changePerson(db, actor, widen)).rejects.toThrow(Refused);
    }));

  it("of another organisation are not found", () =>
    inHouse(async (db, actor) => {
      const other = await makeAdministrator(db, "t.lund@alder.example");
      const change = { membershipId: other.membershipId, role: "manager", sites: "all", now } as const;
      await expect(changePerson(db, actor, change)).rejects.toThrow(/does not belong/);
      expect((await findPeople(db, actor)).map(({ email }) => email)).toEqual(["r.amsel@linden.example"]);
    }));
});
