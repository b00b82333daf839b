import { hashPassword } from "better-auth/crypto";
import type { Db, Store } from "@/lib/store/client";
import { appendRecord, holdRecord, type RecordDraft } from "@/lib/store/record";
import { type Actor, type Role, recordName } from "./actor";
import { setPasswordHash, setSites } from "./add-person";
import { requireSeen, type SeenValues } from "./changed-meanwhile";
import { requireAnAdministrator, requireSites, requireWithinOwnSites, type SiteLimit } from "./membership-rules";
import { passwordProblem } from "./password-rule";
import { requirePermission } from "./permissions";
import { Trouble } from "./trouble";

interface Standing {
  readonly id: string;
  readonly userId: string;
  readonly role: Role;
  readonly sites: SiteLimit;
}

/** The live membership, if the actor may manage it; other organisations' are not found. */
async function getStanding(tx: Db, actor: Actor, membershipId: string): Promise<Standing> {
  const row = await tx.membership.findFirst({
    where: { id: membershipId, organisationId: actor.organisationId, endedAt: null },
    include: { sites: true },
  });
  if (!row) throw new Trouble("not_found", "This person does not belong to the organisation any more: reload the page.");
  const sites = row.allSites ? ("all" as const) : row.sites.map(({ siteId }) => siteId);
  requireWithinOwnSites(actor, sites);
  return { id: row.id, userId: row.userId, role: row.role, sites };
}

function entry(actor: Actor, now: Date, change: Pick<RecordDraft, "what" | "subjectId" | "before" | "after">): RecordDraft {
  return { organisationId: actor.organisationId, at: now, actor: recordName(actor), subjectKind: "membership", ...change };
}

/** What the form about a person can change, by its fields. */
export function personSeen({ role, sites }: Pick<Standing, "role" | "sites">): SeenValues {
  return { role, sites: sites === "all" ? "all" : [...sites].sort().join(" ") };
}

async function siteWords(tx: Db, sites: SiteLimit): Promise<string> {
  if (sites === "all") return "all sites";
  const rows = await tx.site.findMany({ where: { id: { in: [...sites] } }, select: { name: true }, orderBy: { nameKey: "asc" } });
  return rows.map(({ name }) => name).join(", ");
}

/** Gives a person another role and other sites. It holds from the next request on. Throws `Trouble` for the last administrator. */
export async function changePerson(
  db: Store,
  actor: Actor,
  change: {
    readonly membershipId: string;
    readonly role: Role;
    readonly sites: SiteLimit;
    readonly seen?: string | undefined;
    readonly now: Date;
  },
): Promise<void> {
  requirePermission(actor, "manage people");
  const { membershipId, role, sites, seen, now } = change;
  requireWithinOwnSites(actor, sites);
  await db.$transaction(async (tx) => {
    await holdRecord(tx, actor.organisationId);
    const before = await getStanding(tx, actor, membershipId);
    const shown = { sites: await siteWords(tx, before.sites) };
    requireSeen(seen, personSeen(before), { what: "the role or the sites of this person", shown });
    await requireSites(tx, actor.organisationId, sites);
    await tx.membership.update({ where: { id: membershipId }, data: { role, allSites: sites === "all" } });
    await setSites(tx, membershipId, sites);
    if (before.role === "administrator") await requireAnAdministrator(tx, actor.organisationId);
    const was = { role: before.role, sites: before.sites };
    await appendRecord(tx, [entry(actor, now, { what: "changed person", subjectId: membershipId, before: was, after: { role, sites } })]);
  });
}

/** Ends a membership: the person keeps their history here and is refused from the next request on. */
export async function endMembership(
  db: Store,
  actor: Actor,
  { membershipId, now }: { readonly membershipId: string; readonly now: Date },
): Promise<void> {
  requirePermission(actor, "manage people");
  await db.$transaction(async (tx) => {
    await holdRecord(tx, actor.organisationId);
    const before = await getStanding(tx, actor, membershipId);
    await tx.membership.update({ where: { id: membershipId }, data: { endedAt: now } });
    if (before.role === "administrator") await requireAnAdministrator(tx, actor.organisationId);
    const elsewhere = await tx.membership.count({ where: { userId: before.userId, endedAt: null } });
    if (elsewhere === 0) await tx.session.deleteMany({ where: { userId: before.userId } });
    await appendRecord(tx, [entry(actor, now, { what: "ended membership", subjectId: membershipId, before: { role: before.role } })]);
  });
}

/** Gives a person a new password and ends their sessions. Not for an account that another organisation uses too. */
export async function resetPassword(
  db: Store,
  actor: Actor,
  { membershipId, password, now }: { readonly membershipId: string; readonly password: string; readonly now: Date },
): Promise<void> {
  requirePermission(actor, "manage people");
  const hash = await hashPassword(password);
  await db.$transaction(async (tx) => {
    const { userId } = await getStanding(tx, actor, membershipId);
    const user = await tx.user.findUniqueOrThrow({ where: { id: userId }, include: { memberships: { where: { endedAt: null } } } });
    const weak = passwordProblem(password, user);
    if (weak) throw new Trouble("not_valid", weak, { password: weak });
    if (user.memberships.some(({ organisationId }) => organisationId !== actor.organisationId)) {
      throw new Trouble("not_allowed_now", "This account is used in another organisation too: the person must change the password.");
    }
    await setPasswordHash(tx, { userId, hash, now });
    await tx.signInAttempt.deleteMany({ where: { email: user.email } });
    await appendRecord(tx, [entry(actor, now, { what: "reset password", subjectId: membershipId })]);
  });
}
