import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import {
  categoriesOf,
  type ListedAppliance,
  type ListFilter,
  type ListOrder,
  listCount,
  listedAppliances,
  listIds,
  registryCounts,
} from "@/lib/store/appliance-list-queries";
import type { Db } from "@/lib/store/client";
import { findSites, findUnit } from "@/lib/store/place-queries";
import { addressChoice, addressPage, addressText } from "./address-fields";
import { foldCode, searchWords } from "./search-text";

export const rowsPerPage = 50;
/** A tag at an outlet that was not seen for this long counts as absent. Common practice, no source. */
export const absentAfterDays = 7;
const dayMs = 86_400_000;

/** The list's state in its address. What cannot be read is left out, so that an old link still opens. */
export const applianceQuery = z.object({
  q: addressText,
  site: addressText,
  unit: addressText,
  kind: addressText,
  maker: addressText,
  model: addressText,
  state: addressChoice(["in_use", "out_of_use", "retired"]),
  signal: addressChoice(["any", "DANGER", "WARNING", "CAUTION", "NOTICE"]),
  recall: addressChoice(["covered", "likely", "check_label"]),
  stands: addressChoice(["over", "near", "no_readings"]),
  plate: addressChoice(["unread", "contradiction"]),
  absent: addressChoice(["yes"]),
  sort: addressChoice(["finding", "tag", "plate", "seen", "where", "last", "changed"]),
  order: addressChoice(["asc", "desc"]),
  page: addressPage,
});
export type ApplianceQuery = z.output<typeof applianceQuery>;

/** The order that a column has when it is asked for first. */
export const firstOrder = { finding: "desc", tag: "asc", plate: "asc", seen: "desc", where: "asc", last: "desc", changed: "desc" } as const;

export function orderOf(query: ApplianceQuery): ListOrder {
  const sort = query.sort ?? "finding";
  return { sort, descending: (query.order ?? firstOrder[sort]) === "desc" };
}

/** The filter that an address asks for, inside what the actor may see. */
export function filterOf(actor: Actor, query: ApplianceQuery, now: Date): ListFilter {
  return {
    organisationId: actor.organisationId,
    siteIds: actor.siteIds === "all" ? null : actor.siteIds,
    siteId: query.site ?? null,
    unitId: query.unit ?? null,
    category: query.kind ?? null,
    state: query.state ?? null,
    signal: query.signal ?? null,
    recall: query.recall ?? null,
    stands: query.stands ?? null,
    plate: query.plate ?? null,
    absentSince: query.absent ? new Date(now.getTime() - absentAfterDays * dayMs) : null,
    brandKey: query.maker ?? null,
    modelKey: query.model ?? null,
    words: searchWords(query.q ?? "").map((word) => ({ word, code: foldCode(word) })),
  };
}

export interface ApplianceList {
  readonly rows: readonly ListedAppliance[];
  readonly found: number;
  readonly page: number;
  readonly pages: number;
  readonly counts: Awaited<ReturnType<typeof registryCounts>>;
}

/** One page of the list; a page past the end is the last one. */
export async function listAppliances(
  db: Db,
  actor: Actor,
  ask: { readonly query: ApplianceQuery; readonly now: Date },
): Promise<ApplianceList> {
  requirePermission(actor, "see appliances");
  const { query, now } = ask;
  const filter = filterOf(actor, query, now);
  const since = { seen: new Date(now.getTime() - dayMs), absent: new Date(now.getTime() - absentAfterDays * dayMs) };
  const counts = await registryCounts(db, filter, since);
  // Without a filter the figures of the title block have counted already; counting again would read the whole registry once more.
  const found = isUnfiltered(query) ? counts.tagged : await listCount(db, filter);
  const pages = Math.max(1, Math.ceil(found / rowsPerPage));
  const page = Math.min(query.page ?? 1, pages);
  const ids = await listIds(db, filter, { ...orderOf(query), skip: (page - 1) * rowsPerPage, take: rowsPerPage });
  return { rows: await listedAppliances(db, ids), found, page, pages, counts };
}

function isUnfiltered({ sort: _sort, order: _order, page: _page, ...filters }: ApplianceQuery): boolean {
  return Object.values(filters).every((value) => value === undefined || value === "");
}

const knownKinds = new WeakMap<Db, Map<string, { readonly at: number; readonly names: string[] }>>();
const kindsHoldMs = 60_000;

/** The kinds of appliance that the filter offers, at most a minute old: finding them reads the whole registry. */
async function kindsOf(db: Db, organisationId: string, now: Date): Promise<string[]> {
  const kept = knownKinds.get(db) ?? new Map<string, { readonly at: number; readonly names: string[] }>();
  knownKinds.set(db, kept);
  const known = kept.get(organisationId);
  if (known && Math.abs(now.getTime() - known.at) < kindsHoldMs) return known.names;
  const names = await categoriesOf(db, organisationId);
  kept.set(organisationId, { at: now.getTime(), names });
  return names;
}

/** What the filters offer: the sites in reach, the kinds there are, and the name of the unit that is on. */
export async function listChoices(db: Db, actor: Actor, { query, now }: { readonly query: ApplianceQuery; readonly now: Date }) {
  requirePermission(actor, "see appliances");
  const { organisationId, siteIds } = actor;
  const [sites, categories, unit] = await Promise.all([
    findSites(db, siteIds === "all" ? { organisationId } : { organisationId, id: { in: [...siteIds] } }),
    kindsOf(db, organisationId, now),
    query.unit === undefined ? null : findUnit(db, organisationId, query.unit),
  ]);
  return { sites, categories, unit };
}

/** Rows read at once: the embedded database takes at most 999 values in a statement, and some stand beside the ids. */
const exportChunk = 500;
const mostExported = 1_000_000;

/** All rows of the list, or the chosen ones among them, some hundreds at a time and in the list's order. */
export async function* exportAppliances(
  db: Db,
  actor: Actor,
  ask: { readonly query: ApplianceQuery; readonly chosen: readonly string[] | null; readonly now: Date },
): AsyncGenerator<ListedAppliance[]> {
  requirePermission(actor, "see appliances");
  const chosen = ask.chosen === null ? null : new Set(ask.chosen);
  // Ids at once (36 bytes each), rows by and by: sorting anew for every chunk would cost a sort of the whole list each time.
  const all = await listIds(db, filterOf(actor, ask.query, ask.now), { ...orderOf(ask.query), skip: 0, take: mostExported });
  const ids = chosen === null ? all : all.filter((id) => chosen.has(id));
  for (let at = 0; at < ids.length; at += exportChunk) yield await listedAppliances(db, ids.slice(at, at + exportChunk));
}
