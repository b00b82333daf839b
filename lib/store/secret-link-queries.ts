import type { Db } from "./client";
import type { SecretLink } from "./generated/sqlite/client";

export type { SecretLink };

export type NewSecretLink = Omit<SecretLink, "usedAt" | "openedAt" | "withdrawnAt" | "payload"> & { readonly payload: object };

export async function insertSecretLink(tx: Db, link: NewSecretLink): Promise<void> {
  await tx.secretLink.create({ data: link });
}

export function findSecretLink(db: Db, tokenHash: string): Promise<SecretLink | null> {
  return db.secretLink.findUnique({ where: { tokenHash } });
}

export function findSecretLinks(
  db: Db,
  where: Pick<SecretLink, "organisationId" | "kind"> & Partial<Pick<SecretLink, "subjectKind" | "subjectId">>,
): Promise<SecretLink[]> {
  return db.secretLink.findMany({ where, orderBy: [{ createdAt: "desc" }, { id: "asc" }] });
}

/** Notes the first time it was opened. */
export async function markOpened(db: Db, id: string, openedAt: Date): Promise<void> {
  await db.secretLink.updateMany({ where: { id, openedAt: null }, data: { openedAt } });
}

/** Uses a link up; false when somebody was quicker, or it was withdrawn meanwhile. */
export async function markUsed(tx: Db, id: string, usedAt: Date): Promise<boolean> {
  return (await tx.secretLink.updateMany({ where: { id, usedAt: null, withdrawnAt: null }, data: { usedAt } })).count === 1;
}

/** Withdraws the links of a kind about a thing that are still open; returns how many. */
export async function withdrawSecretLinks(
  tx: Db,
  where: Pick<SecretLink, "organisationId" | "kind"> & Partial<Pick<SecretLink, "id" | "subjectKind" | "subjectId">>,
  withdrawnAt: Date,
): Promise<number> {
  return (await tx.secretLink.updateMany({ where: { ...where, usedAt: null, withdrawnAt: null }, data: { withdrawnAt } })).count;
}
