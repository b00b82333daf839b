import { createHash } from "node:crypto";
import { type Db, dialectOf } from "./client";

/** One change to be recorded. `actor` is a person's id or the name of the part that acted; never a person's name. */
export interface RecordDraft {
  readonly organisationId: string;
  readonly at: Date;
  readonly actor: string;
  readonly what: string;
  readonly subjectKind: string;
  readonly subjectId: string;
  readonly before?: unknown;
  readonly after?: unknown;
}

/** The link before the first entry. */
export const firstLink = "0".repeat(64);

/** JSON with keys in order, so that the same content has the same bytes in either database. */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_key, inner: unknown) =>
    inner && typeof inner === "object" && !Array.isArray(inner) && !(inner instanceof Date)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
      : inner,
  );
}

/** What an entry's hash is taken over, to the letter: the canonical JSON of its content with the hash of the entry before it. */
export function entryLine(number: number, draft: RecordDraft, previousHash: string): string {
  const { organisationId, at, actor, what, subjectKind, subjectId } = draft;
  return canonicalJson({
    number,
    organisationId,
    at: at.toISOString(),
    actor,
    what,
    subjectKind,
    subjectId,
    before: draft.before ?? null,
    after: draft.after ?? null,
    previousHash,
  });
}

/** The hash of an entry: SHA-256 over its line. */
export function entryHash(number: number, draft: RecordDraft, previousHash: string): string {
  return createHash("sha256")
    .update(entryLine(number, draft, previousHash))
    .digest("hex");
}

/** Holds other writers of the organisation's record back until the transaction ends; the embedded database has one writer anyway. */
export async function holdRecord(tx: Db, organisationId: string): Promise<void> {
  if (dialectOf(tx) === "postgresql") await tx.$queryRaw`SELECT 1 AS "held" FROM "Organisation" WHERE "id" = ${organisationId} FOR UPDATE`;
}

/**
 * Appends entries to the organisation's record, each linked to the one before by its hash. Call it inside the transaction that
 * makes the change, so that neither stands without the other.
 */
export async function appendRecord(tx: Db, drafts: readonly RecordDraft[]): Promise<void> {
  const organisationId = drafts[0]?.organisationId;
  if (organisationId === undefined) return;
  await holdRecord(tx, organisationId);
  const last = await tx.recordEntry.findFirst({
    where: { organisationId },
    orderBy: { number: "desc" },
    select: { number: true, hash: true },
  });
  let number = last?.number ?? 0;
  let previousHash = last?.hash ?? firstLink;
  for (const draft of drafts) {
    number += 1;
    const { before, after, ...rest } = draft;
    const hash = entryHash(number, draft, previousHash);
    await tx.recordEntry.create({
      data: {
        ...rest,
        number,
        previousHash,
        hash,
        ...(before === undefined ? {} : { before: before as object }),
        ...(after === undefined ? {} : { after: after as object }),
      },
    });
    previousHash = hash;
  }
}
