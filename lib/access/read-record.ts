import type { Db } from "@/lib/store/client";
import type { RecordHead } from "@/lib/store/record-head";
import { type RecordVerdict, verifyRecord } from "@/lib/store/verify-record";
import type { Actor } from "./actor";
import { requirePermission } from "./permissions";
import { Refused } from "./refusal";

export interface RecordLine {
  readonly number: number;
  readonly at: Date;
  /** The person's name as it is today, or the part that acted. */
  readonly who: string;
  readonly what: string;
  readonly subjectKind: string;
  readonly subjectId: string;
  readonly before: unknown;
  readonly after: unknown;
  readonly hash: string;
}

export interface RecordPage {
  readonly lines: readonly RecordLine[];
  readonly entries: number;
  readonly page: number;
  readonly pages: number;
}

export const recordPageSize = 50;

/** The record is of the whole organisation, so a person limited to sites may not read it. Throws `Refused`. */
export function requireRecord(actor: Actor): void {
  requirePermission(actor, "see record");
  if (actor.siteIds !== "all") throw new Refused("see record", true);
}

/** A page of the record, newest first; `page` counts from 1 and is brought into range. `subjectId` keeps to one subject. */
export async function findRecord(
  db: Db,
  actor: Actor,
  query: { readonly page: number; readonly subjectId?: string | undefined },
): Promise<RecordPage> {
  requireRecord(actor);
  const where = { organisationId: actor.organisationId, ...(query.subjectId ? { subjectId: query.subjectId } : {}) };
  const entries = await db.recordEntry.count({ where });
  const pages = Math.max(1, Math.ceil(entries / recordPageSize));
  const page = Math.min(Math.max(1, query.page), pages);
  const rows = await db.recordEntry.findMany({
    where,
    orderBy: { number: "desc" },
    skip: (page - 1) * recordPageSize,
    take: recordPageSize,
  });
  const people = await db.user.findMany({
    where: { id: { in: [...new Set(rows.map(({ actor: id }) => id))] } },
    select: { id: true, name: true },
  });
  const names = new Map(people.map(({ id, name }) => [id, name]));
  const lines = rows.map(({ actor: who, number, at, what, subjectKind, subjectId, before, after, hash }) => ({
    number,
    at,
    who: names.get(who) ?? who,
    what,
    subjectKind,
    subjectId,
    before,
    after,
    hash,
  }));
  return { lines, entries, page, pages };
}

/** Checks the whole chain of the actor's organisation, and that it still holds the head that somebody wrote down. */
export async function checkRecord(db: Db, actor: Actor, head?: RecordHead | null): Promise<RecordVerdict> {
  requireRecord(actor);
  return verifyRecord(db, actor.organisationId, head);
}
