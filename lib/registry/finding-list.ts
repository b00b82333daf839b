import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { findingCauses } from "@/lib/casework/cause";
import { signalWords } from "@/lib/casework/signal-word";
import type { Db } from "@/lib/store/client";
import { type FindingFilter, type FindingSort, findFindings, findingCounts } from "@/lib/store/finding-list-queries";
import { findSites } from "@/lib/store/place-queries";
import { addressChoice, addressPage, addressText } from "./address-fields";
import { searchWords } from "./search-text";
import { type ShownFinding, showFindings } from "./shown-finding";

export const findingsAPage = 50;

/** The list's state in its address. What cannot be read is left out, so that an old link still opens. */
export const findingQuery = z.object({
  q: addressText,
  site: addressText,
  state: addressChoice(["all", "open", "out_of_use", "remedy_awaited", "closed"]),
  word: addressChoice(signalWords),
  cause: addressChoice(findingCauses),
  owner: addressChoice(["me", "nobody"]),
  due: addressChoice(["past"]),
  appliance: addressText,
  sort: addressChoice(["word", "due", "since", "seen", "closed"]),
  order: addressChoice(["asc", "desc"]),
  page: addressPage,
});
export type FindingQuery = z.output<typeof findingQuery>;

/** The sites that the actor may see, for the site filter. */
export function mySites(db: Db, actor: Actor): Promise<{ id: string; name: string; timeZone: string | null }[]> {
  const ids = actor.siteIds === "all" ? {} : { id: { in: [...actor.siteIds] } };
  return findSites(db, { organisationId: actor.organisationId, retiredAt: null, ...ids });
}

/** How the list is sorted: strongest word first unless the address says otherwise. */
export function findingOrder(query: FindingQuery): { sort: FindingSort; order: "asc" | "desc" } {
  return { sort: query.sort ?? "word", order: query.order === "desc" ? "desc" : "asc" };
}

const alive = ["open", "out_of_use", "remedy_awaited"] as const;

function statesOf(state: string | undefined): Pick<FindingFilter, "states"> {
  if (state === "all") return {};
  return { states: alive.some((one) => one === state) || state === "closed" ? [state as (typeof alive)[number] | "closed"] : alive };
}

/** The filter that an address asks for, inside what the actor may see. */
export function findingFilter(actor: Actor, query: FindingQuery, now: Date): FindingFilter {
  return {
    organisationId: actor.organisationId,
    siteIds: actor.siteIds === "all" ? null : actor.siteIds,
    siteId: query.site,
    ...statesOf(query.state),
    word: query.word,
    cause: query.cause,
    ...(query.owner ? { ownerId: query.owner === "me" ? actor.userId : null } : {}),
    ...(query.due ? { dueBefore: now } : {}),
    applianceId: query.appliance,
    words: searchWords(query.q ?? ""),
  };
}

export interface FindingList {
  readonly rows: readonly ShownFinding[];
  readonly total: number;
  readonly page: number;
  readonly pages: number;
  /** Findings by signal word, whatever word is chosen. */
  readonly counts: ReadonlyMap<string, number>;
}

/** A page of the findings that the address asks for. Permission: `see findings`. */
export async function listFindings(db: Db, actor: Actor, { query, now }: { query: FindingQuery; now: Date }): Promise<FindingList> {
  requirePermission(actor, "see findings");
  const filter = findingFilter(actor, query, now);
  const page = query.page ?? 1;
  const { rows, total } = await findFindings(db, filter, { ...findingOrder(query), skip: (page - 1) * findingsAPage, take: findingsAPage });
  const counts = await findingCounts(db, { ...filter, word: undefined });
  return { rows: await showFindings(db, rows), total, page, pages: Math.max(1, Math.ceil(total / findingsAPage)), counts };
}

/** All findings that the address asks for, a page at a time, for an export. Permission: `see findings`. */
export async function* exportFindings(
  db: Db,
  actor: Actor,
  { query, now }: { query: FindingQuery; now: Date },
): AsyncGenerator<ShownFinding[]> {
  requirePermission(actor, "see findings");
  const filter = findingFilter(actor, query, now);
  for (let skip = 0; ; skip += 500) {
    const { rows } = await findFindings(db, filter, { ...findingOrder(query), skip, take: 500 });
    if (rows.length === 0) return;
    yield await showFindings(db, rows);
  }
}
