import { hashPassword } from "better-auth/crypto";
import { z } from "zod";
import type { Db, Store } from "@/lib/store/client";
import { appendRecord, holdRecord } from "@/lib/store/record";
import { findSecretLinks, markUsed, type SecretLink, withdrawSecretLinks } from "@/lib/store/secret-link-queries";
import { type Actor, type Role, recordName, roles } from "./actor";
import { type AddedPerson, joinOrganisation } from "./add-person";
import { accountKey } from "./lockout";
import { requireSites, requireWithinOwnSites, type SiteLimit } from "./membership-rules";
import { passwordProblem } from "./password-rule";
import { requirePermission } from "./permissions";
import { issueLink, type LinkState, linkState, openLink } from "./secret-link";
import { Trouble } from "./trouble";

const days = 7;
const payloadSchema = z.object({
  email: z.string(),
  name: z.string(),
  role: z.enum(roles as [Role, ...Role[]]),
  sites: z.union([z.literal("all"), z.array(z.string())]),
});

/** Who is invited, as what. */
export interface Invitation {
  readonly email: string;
  readonly name: string;
  readonly role: Role;
  readonly sites: SiteLimit;
}

/** An invitation as its list shows it. */
export interface InvitationLine extends Invitation {
  readonly id: string;
  readonly state: LinkState;
  readonly createdAt: Date;
  readonly expiresAt: Date;
}

const subjectOf = (email: string) => ({ kind: "invitation", id: accountKey(email) });
const detailsOf = (link: SecretLink): Invitation => payloadSchema.parse(link.payload);

/**
 * Invites a person: whoever opens the link within a week chooses a password and belongs to the organisation. An earlier invitation of
 * the same address is withdrawn. Returns the link's secret part. Throws `Refused`, or `Trouble` that names the field to mend.
 */
export async function invitePerson(
  db: Store,
  actor: Actor,
  given: Invitation & { readonly formId?: string | undefined; readonly now: Date },
): Promise<{ token: string }> {
  requirePermission(actor, "manage people");
  requireWithinOwnSites(actor, given.sites);
  requireReachable(given);
  const { now, name, email, role, sites, formId } = given;
  const invitation = { email: email.trim(), name: name.trim(), role, sites };
  return db.$transaction(async (tx) => {
    await holdRecord(tx, actor.organisationId);
    await requireSites(tx, actor.organisationId, sites);
    await requireOutside(tx, actor.organisationId, email);
    const subject = subjectOf(email);
    const where = { organisationId: actor.organisationId, kind: "invitation", subjectKind: subject.kind, subjectId: subject.id };
    // What is withdrawn here comes back when the form was sent before: the invitation it made stays open.
    await withdrawSecretLinks(tx, where, now);
    const draft = { formId, organisationId: actor.organisationId, kind: "invitation" as const, subject, payload: invitation, days, now };
    const token = await issueLink(tx, { ...draft, byUserId: actor.userId });
    await tell(tx, actor, { what: "invited person", now, after: { role, sites } });
    return { token };
  });
}

function requireReachable({ email, name }: Invitation): void {
  const fields: Record<string, string> = {};
  if (name.trim() === "") fields["name"] = "Give the person's name.";
  if (!z.email().safeParse(email.trim()).success) fields["email"] = `"${email}" is no e-mail address: it needs the form name@host.`;
  const first = Object.values(fields)[0];
  if (first) throw new Trouble("not_valid", first, fields);
}

async function requireOutside(tx: Db, organisationId: string, email: string): Promise<void> {
  const user = await tx.user.findUnique({
    where: { email: accountKey(email) },
    include: { memberships: { where: { organisationId, endedAt: null } } },
  });
  if (user && user.memberships.length > 0)
    throw new Trouble("already_there", `${email.trim()} belongs to this organisation already: change the role instead.`);
}

/** Names and addresses are not in the record, so that they stay erasable. */
async function tell(tx: Db, actor: Actor, { what, now, after }: { what: string; now: Date; after: object }): Promise<void> {
  const { organisationId } = actor;
  await appendRecord(tx, [
    { organisationId, at: now, actor: recordName(actor), what, subjectKind: "invitation", subjectId: organisationId, after },
  ]);
}

/** All invitations of the organisation, the latest first. Throws `Refused`. */
export async function findInvitations(db: Db, actor: Actor, now: Date): Promise<InvitationLine[]> {
  requirePermission(actor, "manage people");
  const links = await findSecretLinks(db, { organisationId: actor.organisationId, kind: "invitation" });
  return links.map((link) => {
    const { id, createdAt, expiresAt } = link;
    return { ...detailsOf(link), id, createdAt, expiresAt, state: linkState(link, now) };
  });
}

/** Withdraws an invitation that was not accepted yet. Throws `Refused` or `Trouble`. */
export async function withdrawInvitation(db: Store, actor: Actor, { id, now }: { id: string; now: Date }): Promise<void> {
  requirePermission(actor, "manage people");
  await db.$transaction(async (tx) => {
    const withdrawn = await withdrawSecretLinks(tx, { organisationId: actor.organisationId, kind: "invitation", id }, now);
    if (withdrawn === 0) throw new Trouble("not_allowed_now", "This invitation is not open any more.");
    await tell(tx, actor, { what: "withdrew invitation", now, after: { id } });
  });
}

/** What an invitation says to whoever opens it. Throws `Trouble`. */
export async function readInvitation(db: Db, { token, now }: { token: string; now: Date }): Promise<Invitation & { organisation: string }> {
  const link = await openLink(db, "invitation", { token, now });
  const { name: organisation } = await db.organisation.findUniqueOrThrow({ where: { id: link.organisationId } });
  return { ...detailsOf(link), organisation };
}

/**
 * Accepts an invitation: the person joins with the password they chose. An account that is in use elsewhere keeps its own password.
 * The link works once. Throws `Trouble`.
 */
export async function acceptInvitation(
  db: Store,
  given: { readonly token: string; readonly name: string; readonly password: string; readonly now: Date },
): Promise<AddedPerson & { email: string }> {
  const { token, password, now } = given;
  const link = await openLink(db, "invitation", { token, now });
  const { email, role, sites } = detailsOf(link);
  const name = given.name.trim();
  if (name === "") throw new Trouble("not_valid", "Give your name.", { name: "Give your name." });
  const weak = passwordProblem(password, { name, email });
  if (weak) throw new Trouble("not_valid", weak, { password: weak });
  const hash = await hashPassword(password);
  const actor: Actor = { userId: null, name: "invitation", organisationId: link.organisationId, role: "administrator", siteIds: "all" };
  const added = await db.$transaction(async (tx) => {
    await holdRecord(tx, link.organisationId);
    if (!(await markUsed(tx, link.id, now))) throw new Trouble("not_allowed_now", "This link was used already: sign in.");
    return joinOrganisation(tx, { actor, person: { email, name, role, sites, password, now }, hash });
  });
  return { ...added, email };
}
