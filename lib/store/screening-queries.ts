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

/** Puts results in the place of the organisation's earlier ones: what is the same stays untouched, what the readings no longer show goes. */
export async function replaceResults(tx: Db, organisationId: string, fresh: readonly FreshResult[]): Promise<ReplacedResults> {
  const stored = new Map((await tx.screeningResultRow.findMany({ where: { organisationId } })).map((row) => [row.key, row]));
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
