import type { Db } from "./client";
import type { OccupantNotice, SiteContact, Tenancy } from "./generated/sqlite/client";
import { inParts } from "./id-parts";

export type { OccupantNotice, SiteContact, Tenancy };

/** Stores a tenancy; false when one of this id is there already. */
export async function insertTenancy(tx: Db, tenancy: Omit<Tenancy, "toAt" | "erasedAt" | "version">): Promise<boolean> {
  if ((await tx.tenancy.findUnique({ where: { id: tenancy.id }, select: { id: true } })) !== null) return false;
  await tx.tenancy.create({ data: tenancy });
  return true;
}

export function findTenancy(db: Db, organisationId: string, id: string): Promise<Tenancy | null> {
  return db.tenancy.findFirst({ where: { id, organisationId } });
}

/** A site's tenancies, those that have not ended first, the latest first. */
export async function tenanciesOfSite(db: Db, organisationId: string, siteId: string): Promise<Tenancy[]> {
  const where = { organisationId, siteId };
  const lasting = await db.tenancy.findMany({ where: { ...where, toAt: null }, orderBy: [{ fromAt: "desc" }, { id: "asc" }] });
  const ending = { ...where, toAt: { not: null } };
  return [...lasting, ...(await db.tenancy.findMany({ where: ending, orderBy: [{ toAt: "desc" }, { id: "asc" }] }))];
}

/** Who is in a unit at an instant. */
export function tenanciesAt(db: Db, unitId: string, at: Date): Promise<Tenancy[]> {
  return db.tenancy.findMany({
    where: { unitId, fromAt: { lte: at }, OR: [{ toAt: null }, { toAt: { gt: at } }] },
    orderBy: [{ fromAt: "desc" }, { id: "asc" }],
  });
}

/** Changes a tenancy as it was read; false when somebody was quicker. */
export async function changeTenancy(
  tx: Db,
  { id, version }: Pick<Tenancy, "id" | "version">,
  change: Partial<Pick<Tenancy, "toAt" | "name" | "email" | "note" | "erasedAt">>,
): Promise<boolean> {
  return (await tx.tenancy.updateMany({ where: { id, version }, data: { ...change, version: { increment: 1 } } })).count === 1;
}

export function findContact(db: Db, siteId: string): Promise<SiteContact | null> {
  return db.siteContact.findUnique({ where: { siteId } });
}

export async function saveContactRow(tx: Db, { siteId, ...row }: SiteContact): Promise<void> {
  await tx.siteContact.upsert({ where: { siteId }, create: { siteId, ...row }, update: row });
}

/** An organisation's own wording of parts, by part. */
export async function ownTexts(db: Db, organisationId: string, language: string): Promise<Record<string, string>> {
  const rows = await db.occupantText.findMany({ where: { organisationId, language } });
  return Object.fromEntries(rows.map(({ part, text }) => [part, text]));
}

/** Keeps an own wording; an empty one is taken away. */
export async function saveOwnText(
  tx: Db,
  { organisationId, language, part, text, now }: { organisationId: string; language: string; part: string; text: string; now: Date },
): Promise<void> {
  const key = { organisationId, language, part };
  if (text === "") await tx.occupantText.deleteMany({ where: key });
  else {
    const row = { text, changedAt: now };
    await tx.occupantText.upsert({ where: { organisationId_language_part: key }, create: { ...key, ...row }, update: row });
  }
}

export async function insertNotice(tx: Db, notice: Omit<OccupantNotice, "unpluggedAt">): Promise<void> {
  await tx.occupantNotice.create({ data: notice });
}

/** The notices about a finding, the latest first. */
export function noticesAbout(db: Db, organisationId: string, findingId: string): Promise<OccupantNotice[]> {
  return db.occupantNotice.findMany({ where: { organisationId, findingId }, orderBy: [{ at: "desc" }, { id: "asc" }] });
}

export function noticeOfLink(db: Db, linkId: string): Promise<OccupantNotice | null> {
  return db.occupantNotice.findUnique({ where: { linkId } });
}

/** Notes when the occupant said that it is unplugged; false when that was said before. */
export async function noteUnplugged(tx: Db, id: string, unpluggedAt: Date): Promise<boolean> {
  return (await tx.occupantNotice.updateMany({ where: { id, unpluggedAt: null }, data: { unpluggedAt } })).count === 1;
}

/** Ends the links of a tenancy with it: those that would outlive `at` run out then, and are withdrawn when that is past. Returns how many. */
export async function endLinksOf(tx: Db, tenancyId: string, { at, now }: { at: Date; now: Date }): Promise<number> {
  const notices = await tx.occupantNotice.findMany({ where: { tenancyId }, select: { linkId: true } });
  let ended = 0;
  for (const ids of inParts(notices.map(({ linkId }) => linkId))) {
    const open = { id: { in: [...ids] }, usedAt: null, withdrawnAt: null };
    const data = at <= now ? { withdrawnAt: now } : { expiresAt: at };
    ended += (await tx.secretLink.updateMany({ where: at <= now ? open : { ...open, expiresAt: { gt: at } }, data })).count;
  }
  return ended;
}

/** Takes the words and the address out of the mails to a tenancy; those not sent yet are not sent any more. */
export async function emptyMailsOf(tx: Db, tenancyId: string, words: string): Promise<void> {
  const notices = await tx.occupantNotice.findMany({ where: { tenancyId, messageId: { not: null } }, select: { messageId: true } });
  for (const ids of inParts(notices.flatMap(({ messageId }) => messageId ?? []))) {
    const where = { id: { in: [...ids] } };
    await tx.outgoingMessage.updateMany({ where: { ...where, state: "queued" }, data: { state: "given_up", problem: words } });
    await tx.outgoingMessage.updateMany({ where, data: { toAddress: words, subject: words, text: words } });
  }
}
