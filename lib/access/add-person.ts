import { hashPassword } from "better-auth/crypto";
import type { Db, Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { appendRecord, holdRecord } from "@/lib/store/record";
import { type Actor, type Role, recordName } from "./actor";
import { accountKey } from "./lockout";
import { requireSites, requireWithinOwnSites, type SiteLimit } from "./membership-rules";
import { passwordProblem } from "./password-rule";
import { requirePermission } from "./permissions";
import { Trouble } from "./trouble";

export interface NewPerson {
  readonly email: string;
  readonly name: string;
  readonly role: Role;
  readonly sites: SiteLimit;
  readonly password: string;
  readonly now: Date;
}

export interface AddedPerson {
  readonly userId: string;
  readonly membershipId: string;
  /** False when the account is in use elsewhere: then its password stays what it was. */
  readonly passwordSet: boolean;
}

/**
 * Adds a person to the actor's organisation, with an account if the address has none yet. Someone who left comes back under the
 * same account. Throws `Trouble` for a weak password, a name or address that is none, or someone who is there already.
 */
export async function addPerson(db: Store, actor: Actor, person: NewPerson): Promise<AddedPerson> {
  requirePermission(actor, "manage people");
  requireWithinOwnSites(actor, person.sites);
  const hash = await checkedHash(person);
  return db.$transaction(async (tx) => {
    await holdRecord(tx, actor.organisationId);
    await requireSites(tx, actor.organisationId, person.sites);
    return joinOrganisation(tx, { actor, person, hash });
  });
}

/** The first person of a new organisation, who must be its administrator. Throws `Trouble` as `addPerson` does. */
export async function addFirstAdministrator(
  db: Store,
  organisationName: string,
  person: Omit<NewPerson, "role" | "sites">,
): Promise<AddedPerson & { readonly organisationId: string }> {
  const whole: NewPerson = { ...person, role: "administrator", sites: "all" };
  const hash = await checkedHash(whole);
  return db.$transaction(async (tx) => {
    const organisation = await tx.organisation.create({ data: { id: newId(), name: organisationName, createdAt: person.now } });
    const organisationId = organisation.id;
    const actor: Actor = { userId: null, name: "command line", organisationId, role: "administrator", siteIds: "all" };
    return { organisationId, ...(await joinOrganisation(tx, { actor, person: whole, hash })) };
  });
}

async function checkedHash(person: NewPerson): Promise<string> {
  const fields: Record<string, string> = {};
  if (person.name.trim() === "") fields["name"] = "Give the person's name.";
  if (!/^[^\s@]+@[^\s@]+$/.test(person.email.trim()))
    fields["email"] = `"${person.email}" is no e-mail address: it needs the form name@host.`;
  const weak = passwordProblem(person.password, person);
  if (weak) fields["password"] = weak;
  const first = Object.values(fields)[0];
  if (first) throw new Trouble("not_valid", first, fields);
  // Slow on purpose, so before the transaction: others must not wait for it.
  return hashPassword(person.password);
}

/** Makes a checked person a member, with an account if there is none yet, and its record entry. */
export async function joinOrganisation(tx: Db, work: { actor: Actor; person: NewPerson; hash: string }): Promise<AddedPerson> {
  const { actor, person, hash } = work;
  const { organisationId } = actor;
  const account = await findOrMakeUser(tx, person);
  const there = await tx.membership.findFirst({ where: { organisationId, userId: account.userId } });
  if (there && there.endedAt === null) {
    throw new Trouble("already_there", `${person.email.trim()} belongs to this organisation already: change the role instead.`);
  }
  const membershipId = there?.id ?? newId();
  const allSites = person.sites === "all";
  const data = { role: person.role, allSites, endedAt: null };
  if (there) await tx.membership.update({ where: { id: membershipId }, data });
  else await tx.membership.create({ data: { id: membershipId, organisationId, userId: account.userId, createdAt: person.now, ...data } });
  await setSites(tx, membershipId, person.sites);
  if (!account.inUse) await setPasswordHash(tx, { userId: account.userId, hash, now: person.now });
  const after = { userId: account.userId, role: person.role, sites: person.sites };
  await appendRecord(tx, [
    {
      organisationId,
      at: person.now,
      actor: recordName(actor),
      what: "added person",
      subjectKind: "membership",
      subjectId: membershipId,
      after,
    },
  ]);
  return { userId: account.userId, membershipId, passwordSet: !account.inUse };
}

async function findOrMakeUser(tx: Db, { email, name, now }: NewPerson): Promise<{ userId: string; inUse: boolean }> {
  const key = accountKey(email);
  const known = await tx.user.findUnique({ where: { email: key }, include: { memberships: { where: { endedAt: null } } } });
  if (known) return { userId: known.id, inUse: known.memberships.length > 0 };
  const userId = newId();
  await tx.user.create({ data: { id: userId, name: name.trim(), email: key, createdAt: now, updatedAt: now } });
  return { userId, inUse: false };
}

/** Replaces the sites a membership is limited to. */
export async function setSites(tx: Db, membershipId: string, sites: SiteLimit): Promise<void> {
  await tx.membershipSite.deleteMany({ where: { membershipId } });
  if (sites === "all") return;
  for (const siteId of new Set(sites)) await tx.membershipSite.create({ data: { membershipId, siteId } });
}

/** Stores the password of an account and ends its sessions. */
export async function setPasswordHash(tx: Db, { userId, hash, now }: { userId: string; hash: string; now: Date }): Promise<void> {
  const changed = await tx.account.updateMany({ where: { userId, providerId: "credential" }, data: { password: hash } });
  if (changed.count === 0) {
    const account = { id: newId(), accountId: userId, providerId: "credential", userId, password: hash, createdAt: now, updatedAt: now };
    await tx.account.create({ data: account });
  }
  await tx.session.deleteMany({ where: { userId } });
}
