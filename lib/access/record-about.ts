import type { Db } from "@/lib/store/client";
import { entriesAbout } from "@/lib/store/record-queries";
import type { Actor } from "./actor";
import { mayDo } from "./permissions";

/** One entry of a thing's timeline. */
export interface TimelineLine {
  readonly number: number;
  readonly at: Date;
  readonly who: string;
  readonly what: string;
  readonly hash: string;
  readonly previousHash: string;
}

/** The latest entries about a thing, and how many there are in all. */
export interface Timeline {
  readonly lines: readonly TimelineLine[];
  readonly total: number;
}

const shown = 12;

/**
 * What the record says of a thing, or of a thing and its parts, the latest first; null for whom the record is not. Who may see the thing
 * is the caller's to ask: one thing's entries tell nothing of other sites.
 */
export async function recordAbout(db: Db, actor: Actor, ids: readonly string[]): Promise<Timeline | null> {
  if (!mayDo(actor, "see record")) return null;
  const { rows, names, total } = await entriesAbout(db, { organisationId: actor.organisationId, ids, take: shown });
  return { lines: rows.map(({ actor: who, ...row }) => ({ ...row, who: names.get(who) ?? who })), total };
}
