import type { Db } from "./client";
import type { Attachment } from "./generated/sqlite/client";

export type { Attachment };

export interface NewAttachment extends Omit<Attachment, "withdrawnAt" | "withdrawnWhy"> {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly thumbnail: Uint8Array<ArrayBuffer> | null;
}

export async function insertAttachment(tx: Db, { bytes, thumbnail, ...row }: NewAttachment): Promise<void> {
  await tx.attachment.create({ data: { ...row, body: { create: { bytes, thumbnail } } } });
}

/** Those kept with a thing, the latest first; withdrawn ones are among them. */
export function findAttachments(db: Db, where: Pick<Attachment, "organisationId" | "subjectKind" | "subjectId">): Promise<Attachment[]> {
  return db.attachment.findMany({ where, orderBy: [{ at: "desc" }, { id: "asc" }] });
}

/** The same photo or document of the same thing, if it is kept already. */
export function findSameAttachment(
  db: Db,
  where: Pick<Attachment, "organisationId" | "subjectKind" | "subjectId" | "sha256">,
): Promise<Attachment | null> {
  return db.attachment.findFirst({ where: { ...where, withdrawnAt: null } });
}

export function findAttachment(db: Db, organisationId: string, id: string): Promise<Attachment | null> {
  return db.attachment.findFirst({ where: { id, organisationId } });
}

export async function attachmentBytes(db: Db, id: string, size: "whole" | "small"): Promise<Uint8Array<ArrayBuffer> | null> {
  const select = size === "small" ? { thumbnail: true } : { bytes: true };
  const body: { bytes?: Uint8Array; thumbnail?: Uint8Array | null } | null = await db.attachmentBody.findFirst({
    where: { attachmentId: id },
    select,
  });
  const bytes = size === "small" ? body?.thumbnail : body?.bytes;
  return bytes ? new Uint8Array(bytes) : null;
}

/** True when it was not withdrawn before. */
export async function withdrawAttachment(tx: Db, id: string, change: { withdrawnAt: Date; withdrawnWhy: string }): Promise<boolean> {
  return (await tx.attachment.updateMany({ where: { id, withdrawnAt: null }, data: change })).count === 1;
}

const siteOfSubject: Readonly<Record<string, (db: Db, organisationId: string, id: string) => Promise<{ siteId: string } | null>>> = {
  appliance: (db, organisationId, id) => db.appliance.findFirst({ where: { id, organisationId }, select: { siteId: true } }),
  finding: (db, organisationId, id) => db.finding.findFirst({ where: { id, organisationId }, select: { siteId: true } }),
  inspection: (db, organisationId, id) => db.inspection.findFirst({ where: { id, organisationId }, select: { siteId: true } }),
};

/** The kinds of things that photos and documents are kept with. */
export const attachmentKinds = Object.keys(siteOfSubject);

/** The site at which a thing is; null when there is no such thing in the organisation. */
export async function siteOfThing(db: Db, organisationId: string, kind: string, id: string): Promise<string | null> {
  return (await siteOfSubject[kind]?.(db, organisationId, id))?.siteId ?? null;
}
