import type { ModelSpan } from "@/lib/matching/notice-reach";
import { type Db, dialectOf, rawReader } from "./client";
import { Prisma } from "./generated/sqlite/client";

const { sql } = Prisma;

/** What to ask the registry for; see `NoticeReach`. */
export interface AskedReach {
  readonly spans: readonly ModelSpan[];
  readonly endings: readonly string[];
  /** Keys of makers whose appliances without a model of their own are in reach. */
  readonly listingMakers: readonly string[];
  /** Keys of makers all of whose appliances are in reach; `null` when no maker alone is asked for. */
  readonly unlistedMakers: readonly string[] | null;
  readonly hasGtins: boolean;
}

/** The different keys of an organisation's makers: one step of the index for each, not one for each appliance. */
export async function findMakerKeys(db: Db, organisationId: string): Promise<string[]> {
  const rows = await rawReader(db).$queryRaw<{ key: string }[]>(sql`
    WITH RECURSIVE makers("key") AS (
      SELECT MIN("brandKey") FROM "Appliance" WHERE "organisationId" = ${organisationId}
      UNION ALL
      SELECT (SELECT MIN("brandKey") FROM "Appliance" WHERE "organisationId" = ${organisationId} AND "brandKey" > makers."key")
      FROM makers WHERE makers."key" IS NOT NULL
    )
    SELECT "key" FROM makers WHERE "key" IS NOT NULL`);
  return rows.map(({ key }) => key);
}

/** A derived table of texts: `r."a"` and `r."b"` of each pair. */
function pairsTable(db: Db, pairs: readonly (readonly [string, string])[]): Prisma.Sql {
  const json = JSON.stringify(pairs.map(([a, b]) => ({ a, b })));
  return dialectOf(db) === "sqlite"
    ? sql`(SELECT value->>'a' AS "a", value->>'b' AS "b" FROM json_each(${json})) AS r`
    : sql`jsonb_to_recordset(${json}::jsonb) AS r("a" text, "b" text)`;
}

function inSpans(db: Db, { spans }: AskedReach): Prisma.Sql[] {
  if (spans.length === 0) return [];
  const table = pairsTable(
    db,
    spans.map(({ from, before }) => [from, before]),
  );
  return [sql`${table} CROSS JOIN "Appliance" a WHERE a."foldedModel" >= r."a" AND a."foldedModel" < r."b" AND`];
}

function ofMakers(db: Db, makers: readonly string[], isWanted: Prisma.Sql): Prisma.Sql[] {
  if (makers.length === 0) return [];
  const table = pairsTable(
    db,
    makers.map((key) => [key, ""]),
  );
  return [sql`${table} CROSS JOIN "Appliance" a WHERE a."brandKey" = r."a" AND ${isWanted} AND`];
}

/** Where the maker's name may stand in the plate's text alone. */
const makerOnPlate = sql`"Appliance" a WHERE a."brandKey" = '' AND a."labelText" IS NOT NULL AND`;

/** One question for each way in which an appliance may be in reach. */
function questions(db: Db, reach: AskedReach): Prisma.Sql[] {
  const { endings, listingMakers, unlistedMakers, hasGtins } = reach;
  return [
    ...inSpans(db, reach),
    ...endings.map((ending) => sql`"Appliance" a WHERE a."foldedModel" LIKE ${`%${ending}`} AND`),
    sql`"Appliance" a WHERE a."foldedModel" IS NULL AND (a."model" IS NOT NULL OR a."labelText" IS NOT NULL) AND`,
    ...ofMakers(db, listingMakers, sql`a."foldedModel" IS NULL`),
    ...(unlistedMakers === null ? [] : [...ofMakers(db, unlistedMakers, sql`1 = 1`), makerOnPlate]),
    ...(hasGtins ? [sql`"Appliance" a WHERE a."upc" IS NOT NULL AND`] : []),
  ];
}

/** Ids of the appliances in reach of some notices and of those that have a candidate of them, each once, in order. */
export async function findReachedAppliances(
  db: Db,
  organisationId: string,
  reach: AskedReach,
  noticeIds: readonly string[],
): Promise<string[]> {
  const ids = new Set<string>();
  for (const from of questions(db, reach)) {
    const rows = await rawReader(db).$queryRaw<{ id: string }[]>(
      sql`SELECT a."id" AS "id" FROM ${from} a."organisationId" = ${organisationId}`,
    );
    for (const { id } of rows) ids.add(id);
  }
  const stored = await db.candidate.findMany({
    where: { organisationId, noticeId: { in: [...noticeIds] } },
    select: { applianceId: true },
  });
  for (const { applianceId } of stored) ids.add(applianceId);
  return [...ids].sort();
}
