import { type BulkColumn, bulkInsert } from "./bulk";
import type { Db } from "./client";
import type { ScreeningResultRow } from "./generated/sqlite/client";
import { newId } from "./ids";

export type { ScreeningResultRow };
export type FreshResult = Omit<ScreeningResultRow, "id" | "reasons"> & { readonly reasons: readonly string[] };

const columns: readonly BulkColumn[] = [
  ...["id", "organisationId", "key", "kind", "siteId", "circuitId", "outletId", "receptacle", "applianceId"].map(
    (name): BulkColumn => ({ name, type: "text" }),
  ),
  { name: "fromAt", type: "timestamp" },
  { name: "toAt", type: "timestamp" },
  { name: "value", type: "real" },
  { name: "limit", type: "real" },
  { name: "unit", type: "text" },
  { name: "ratio", type: "real" },
  { name: "signalWord", type: "text" },
  { name: "reasons", type: "json" },
  { name: "screenedAt", type: "timestamp" },
];

const measured = (row: Pick<ScreeningResultRow, "toAt" | "value" | "limit" | "signalWord">) =>
  [row.toAt.getTime(), row.value, row.limit, row.signalWord].join(" ");
const told = (row: { readonly reasons: unknown }) => JSON.stringify(row.reasons);

/** What a new screening changed. */
export interface ReplacedResults {
  /** Keys of results that are new, or whose measure is another. */
  readonly changed: ReadonlySet<string>;
  readonly created: number;
  readonly updated: number;
  /** Results that the readings no longer show. */
  readonly gone: readonly ScreeningResultRow[];
}

/** Which stored results new ones take the place of: those of a site from an instant on, or some of its keys. */
export interface ResultScope {
  readonly organisationId: string;
  readonly siteId: string;
  /** Only these keys; without them all of the site. */
  readonly keys?: readonly string[];
  /** Results that ended before stand, whatever the readings show: their readings are no longer kept. */
  readonly from?: Date | null;
}

async function resultsInScope(tx: Db, { organisationId, siteId, keys, from }: ResultScope): Promise<ScreeningResultRow[]> {
  const where = { organisationId, siteId, ...(from ? { toAt: { gte: from } } : {}) };
  if (keys === undefined) return tx.screeningResultRow.findMany({ where });
  const found: ScreeningResultRow[] = [];
  for (let at = 0; at < keys.length; at += 500)
    found.push(...(await tx.screeningResultRow.findMany({ where: { organisationId, siteId, key: { in: keys.slice(at, at + 500) } } })));
  return found;
}

/** Puts results in the place of earlier ones: what is the same stays untouched, what the readings no longer show goes. */
export async function replaceResults(tx: Db, scope: ResultScope, fresh: readonly FreshResult[]): Promise<ReplacedResults> {
  const stored = new Map((await resultsInScope(tx, scope)).map((row) => [row.key, row]));
  const wanted = new Set(fresh.map(({ key }) => key));
  const isNew = (row: FreshResult) => !stored.has(row.key);
  const isMeasuredAnew = (row: FreshResult) => measured(row) !== measured(stored.get(row.key)!);
  const written = fresh.filter((row) => isNew(row) || isMeasuredAnew(row) || told(row) !== told(stored.get(row.key)!));
  const gone = [...stored.values()].filter(({ key }) => !wanted.has(key));
  const goneIds = gone.map(({ id }) => id);
  for (let from = 0; from < goneIds.length; from += 500)
    await tx.screeningResultRow.deleteMany({ where: { id: { in: goneIds.slice(from, from + 500) } } });
  await bulkInsert(tx, {
    table: "ScreeningResultRow",
    columns,
    rows: written.map((row) => [
      newId(),
      row.organisationId,
      row.key,
      row.kind,
      row.siteId,
      row.circuitId,
      row.outletId,
      row.receptacle,
      row.applianceId,
      row.fromAt,
      row.toAt,
      row.value,
      row.limit,
      row.unit,
      row.ratio,
      row.signalWord,
      row.reasons,
      row.screenedAt,
    ]),
    onConflict: {
      key: ["organisationId", "key"],
      update: ["toAt", "value", "limit", "ratio", "signalWord", "reasons", "screenedAt", "applianceId", "circuitId"],
    },
  });
  const created = written.filter(isNew).length;
  return {
    changed: new Set(written.filter((row) => isNew(row) || isMeasuredAnew(row)).map(({ key }) => key)),
    created,
    updated: written.length - created,
    gone,
  };
}

/** The stored results of a site of these kinds. */
export function findSiteResults(db: Db, siteId: string, kinds: readonly string[]): Promise<ScreeningResultRow[]> {
  return db.screeningResultRow.findMany({ where: { siteId, kind: { in: [...kinds] } }, orderBy: [{ fromAt: "asc" }, { key: "asc" }] });
}

/** How many results stand at a site. */
export function countSiteResults(db: Db, siteId: string): Promise<number> {
  return db.screeningResultRow.count({ where: { siteId } });
}

/** Which results: of whom, of what kind, where. */
export interface ResultFilter {
  readonly organisationId: string;
  /** Null is every site. */
  readonly siteIds?: readonly string[] | null;
  readonly applianceId?: string | undefined;
  readonly kinds?: readonly string[] | undefined;
  readonly signalWord?: string | undefined;
  readonly siteId?: string | undefined;
}

function resultWhere({ organisationId, siteIds, applianceId, kinds, signalWord, siteId }: ResultFilter) {
  return {
    organisationId,
    AND: siteIds ? [{ siteId: { in: [...siteIds] } }] : [],
    ...(applianceId ? { applianceId } : {}),
    ...(kinds ? { kind: { in: [...kinds] } } : {}),
    ...(signalWord ? { signalWord } : {}),
    ...(siteId ? { siteId } : {}),
  };
}

/** Results in time order. */
export function findResults(db: Db, filter: ResultFilter): Promise<ScreeningResultRow[]> {
  return db.screeningResultRow.findMany({ where: resultWhere(filter), orderBy: [{ fromAt: "asc" }, { key: "asc" }] });
}

export type ResultSort = "from" | "ratio" | "kind";

/** A page of results, and how many there are in all. */
export async function findResultPage(
  db: Db,
  filter: ResultFilter,
  page: { readonly sort: ResultSort; readonly order: "asc" | "desc"; readonly skip: number; readonly take: number },
): Promise<{ rows: ScreeningResultRow[]; total: number }> {
  const where = resultWhere(filter);
  const column = { from: "fromAt", ratio: "ratio", kind: "kind" }[page.sort];
  const [rows, total] = await Promise.all([
    db.screeningResultRow.findMany({ where, orderBy: [{ [column]: page.order }, { key: "asc" }], skip: page.skip, take: page.take }),
    db.screeningResultRow.count({ where }),
  ]);
  return { rows, total };
}
