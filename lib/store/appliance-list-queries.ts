import { storedInstant } from "./bulk";
import { type Db, dialectOf, rawReader } from "./client";
import { type Appliance, Prisma } from "./generated/sqlite/client";

export type ListSort = "finding" | "tag" | "plate" | "seen" | "where" | "last" | "changed";

/** What a list of appliances shows. Null is no filter; retired ones are shown only when asked for. */
export interface ListFilter {
  readonly organisationId: string;
  /** The sites in reach; null is all. */
  readonly siteIds: readonly string[] | null;
  readonly siteId: string | null;
  readonly unitId: string | null;
  readonly category: string | null;
  readonly state: "in_use" | "out_of_use" | "retired" | null;
  /** A signal word of an open finding, or "any" open finding. */
  readonly signal: "DANGER" | "WARNING" | "CAUTION" | "NOTICE" | "any" | null;
  /** Grade of an undecided or affected recall candidate. */
  readonly recall: "covered" | "likely" | "check_label" | null;
  readonly stands: "over" | "near" | "no_readings" | null;
  readonly plate: "unread" | "contradiction" | null;
  /** Not seen since this instant, though it has an outlet. */
  readonly absentSince: Date | null;
  readonly brandKey: string | null;
  readonly modelKey: string | null;
  /** Folded words, each of which must be found; `code` is the word without separators. */
  readonly words: readonly { readonly word: string; readonly code: string }[];
}

export interface ListOrder {
  readonly sort: ListSort;
  readonly descending: boolean;
}

const sql = Prisma.sql;
const none = Prisma.empty;
const share = sql`COALESCE(a."seenWatts" / NULLIF(a."allowedWatts", 0), a."seenAmps" / NULLIF(a."allowedAmps", 0))`;
/** Open findings by their worst word, 4 DANGER to 1 NOTICE. */
const rank = sql`CASE "signalWord" WHEN 'DANGER' THEN 4 WHEN 'WARNING' THEN 3 WHEN 'CAUTION' THEN 2 ELSE 1 END`;
const ranks = { DANGER: 4, WARNING: 3, CAUTION: 2, NOTICE: 1 } as const;

function openFindings(organisationId: string, join: Prisma.Sql): Prisma.Sql {
  return sql`${join} (SELECT "applianceId", MAX(${rank}) AS "rank" FROM "Finding" WHERE "organisationId" = ${organisationId}
    AND "closedAt" IS NULL AND "applianceId" IS NOT NULL GROUP BY "applianceId") f ON f."applianceId" = a."id"`;
}

function holds(db: Db, column: Prisma.Sql, word: string): Prisma.Sql {
  return dialectOf(db) === "sqlite" ? sql`instr(${column}, ${word}) > 0` : sql`strpos(${column}, ${word}) > 0`;
}

/** A word is found in the appliance's own text, or in the name of its unit or outlet. */
function wordFound(db: Db, organisationId: string, { word, code }: ListFilter["words"][number]): Prisma.Sql {
  const own = holds(db, sql`a."searchText"`, word);
  const bare = code !== word && code.length > 2 ? sql` OR ${holds(db, sql`a."searchText"`, code)}` : none;
  const unit = sql`a."unitId" IN (SELECT "id" FROM "Unit" WHERE "organisationId" = ${organisationId} AND ${holds(db, sql`"nameKey"`, word)})`;
  const outlet = sql`a."outletId" IN (SELECT "id" FROM "Outlet" WHERE "organisationId" = ${organisationId} AND ${holds(db, sql`"nameKey"`, word)})`;
  return sql`(${own}${bare} OR ${unit} OR ${outlet})`;
}

function signalHolds(signal: NonNullable<ListFilter["signal"]>): Prisma.Sql {
  return signal === "any" ? sql`f."rank" IS NOT NULL` : sql`f."rank" = ${ranks[signal]}`;
}

const standing = {
  over: sql`${share} > 1`,
  near: sql`${share} > 0.8 AND ${share} <= 1`,
  no_readings: sql`a."seenWatts" IS NULL AND a."seenAmps" IS NULL`,
} as const;
const plates = {
  unread: sql`a."inputWatts" IS NULL AND a."inputAmps" IS NULL`,
  contradiction: sql`a."contradictions" IS NOT NULL`,
} as const;

function conditions(db: Db, filter: ListFilter): Prisma.Sql {
  const { organisationId, siteIds, siteId, unitId, category, state, recall, absentSince, brandKey, modelKey } = filter;
  const parts = [
    sql`a."organisationId" = ${organisationId}`,
    siteIds === null ? null : siteIds.length === 0 ? sql`1 = 0` : sql`a."siteId" IN (${Prisma.join([...siteIds])})`,
    siteId === null ? null : sql`a."siteId" = ${siteId}`,
    unitId === null ? null : sql`a."unitId" = ${unitId}`,
    category === null ? null : sql`a."category" = ${category}`,
    // Enum columns are compared with literals: a text parameter has no enum type on the server.
    state === null ? sql`a."state" <> 'retired'` : sql`a."state" = ${Prisma.raw(`'${state}'`)}`,
    filter.signal === null ? null : signalHolds(filter.signal),
    filter.stands === null ? null : standing[filter.stands],
    filter.plate === null ? null : plates[filter.plate],
    absentSince === null ? null : sql`a."outletId" IS NOT NULL AND a."lastSeenAt" < ${instant(db, absentSince)}`,
    brandKey === null ? null : sql`a."brandKey" = ${brandKey}`,
    modelKey === null ? null : sql`a."modelKey" = ${modelKey}`,
    recall === null ? null : candidateHolds(recall),
    ...filter.words.map((word) => wordFound(db, organisationId, word)),
  ].filter((part) => part !== null);
  return Prisma.join(parts, " AND ");
}

function candidateHolds(grade: string): Prisma.Sql {
  return sql`EXISTS (SELECT 1 FROM "Candidate" c WHERE c."organisationId" = a."organisationId" AND c."applianceId" = a."id"
    AND c."grade" = ${grade} AND c."standing" <> 'not_affected')`;
}

function instant(db: Db, at: Date): string | Date {
  return dialectOf(db) === "sqlite" ? storedInstant(at) : at;
}

function orderBy({ sort, descending }: ListOrder): Prisma.Sql {
  const way = descending ? sql`DESC` : sql`ASC`;
  const keys: Readonly<Record<ListSort, Prisma.Sql>> = {
    finding: sql`f."rank" ${way} NULLS LAST, ${share} ${way} NULLS LAST, a."tagKey"`,
    tag: sql`a."tagKey" ${way}`,
    plate: sql`a."brandKey" ${way}, a."modelKey" ${way}, a."tagKey"`,
    seen: sql`${share} ${way} NULLS LAST, a."tagKey"`,
    where: sql`s."nameKey" ${way}, u."nameKey" ${way} NULLS LAST, a."tagKey"`,
    last: sql`a."lastSeenAt" ${way} NULLS LAST, a."tagKey"`,
    changed: sql`a."updatedAt" ${way}, a."tagKey"`,
  };
  return keys[sort];
}

function joins(filter: ListFilter, sort: ListSort | null): Prisma.Sql {
  const isNeeded = filter.signal !== null || sort === "finding";
  const findings = isNeeded ? openFindings(filter.organisationId, filter.signal === null ? sql`LEFT JOIN` : sql`JOIN`) : none;
  const places = sort === "where" ? sql`JOIN "Site" s ON s."id" = a."siteId" LEFT JOIN "Unit" u ON u."id" = a."unitId"` : none;
  return sql`${findings} ${places}`;
}

type ListPage = ListOrder & { readonly skip: number; readonly take: number };

async function pageOfIds(db: Db, filter: ListFilter, page: ListPage, more: Prisma.Sql = none): Promise<string[]> {
  const rows = await rawReader(db).$queryRaw<{ id: string }[]>(sql`SELECT a."id" FROM "Appliance" a ${joins(filter, page.sort)}
    WHERE ${conditions(db, filter)} ${more} ORDER BY ${orderBy(page)} LIMIT ${page.take} OFFSET ${page.skip}`);
  return rows.map((row) => row.id);
}

/** The ids of a page of the list, in order. `skip` counts rows. */
export async function listIds(db: Db, filter: ListFilter, page: ListPage): Promise<string[]> {
  const isWorstFirst = page.sort === "finding" && page.descending && filter.signal === null;
  return isWorstFirst ? worstFirst(db, filter, page) : pageOfIds(db, filter, page);
}

/** Those with an open finding are few and come first, so the others are sorted only where a page reaches them. */
async function worstFirst(db: Db, filter: ListFilter, page: ListPage): Promise<string[]> {
  const flaggedOnly = { ...filter, signal: "any" } as const;
  const flagged = await pageOfIds(db, flaggedOnly, page);
  if (flagged.length === page.take) return flagged;
  const before = page.skip === 0 ? flagged.length : await listCount(db, flaggedOnly);
  const rest = { sort: "seen", descending: true, skip: Math.max(0, page.skip - before), take: page.take - flagged.length } as const;
  const unflagged = sql`AND a."id" NOT IN (SELECT "applianceId" FROM "Finding" WHERE "organisationId" = ${filter.organisationId}
    AND "closedAt" IS NULL AND "applianceId" IS NOT NULL)`;
  return [...flagged, ...(await pageOfIds(db, filter, rest, unflagged))];
}

/** How many the list has. */
export async function listCount(db: Db, filter: ListFilter): Promise<number> {
  const rows = await rawReader(db).$queryRaw<{ n: bigint | number }[]>(
    sql`SELECT COUNT(*) AS n FROM "Appliance" a ${joins(filter, null)} WHERE ${conditions(db, filter)}`,
  );
  return Number(rows[0]?.n ?? 0);
}

export interface RegistryCounts {
  readonly tagged: number;
  readonly plateRead: number;
  readonly seenLately: number;
  readonly absent: number;
}

/** Figures of all that are not retired: `seenSince` and `absentSince` bound the last two. */
export async function registryCounts(
  db: Db,
  scope: Pick<ListFilter, "organisationId" | "siteIds">,
  since: { readonly seen: Date; readonly absent: Date },
): Promise<RegistryCounts> {
  const { siteIds } = scope;
  const sites = siteIds === null ? none : siteIds.length === 0 ? sql`AND 1 = 0` : sql`AND "siteId" IN (${Prisma.join([...siteIds])})`;
  const rows = await rawReader(db).$queryRaw<Record<keyof RegistryCounts, bigint | number | null>[]>(sql`SELECT COUNT(*) AS "tagged",
    SUM(CASE WHEN "inputWatts" IS NOT NULL OR "inputAmps" IS NOT NULL THEN 1 ELSE 0 END) AS "plateRead",
    SUM(CASE WHEN "lastSeenAt" >= ${instant(db, since.seen)} THEN 1 ELSE 0 END) AS "seenLately",
    SUM(CASE WHEN "outletId" IS NOT NULL AND "lastSeenAt" < ${instant(db, since.absent)} THEN 1 ELSE 0 END) AS "absent"
    FROM "Appliance" WHERE "organisationId" = ${scope.organisationId} AND "state" <> 'retired' ${sites}`);
  const row = rows[0];
  const count = (name: keyof RegistryCounts) => Number(row?.[name] ?? 0);
  return { tagged: count("tagged"), plateRead: count("plateRead"), seenLately: count("seenLately"), absent: count("absent") };
}

/** The kinds of appliance there are, the commonest first. */
export async function categoriesOf(db: Db, organisationId: string): Promise<string[]> {
  const rows = await rawReader(db).$queryRaw<{ category: string }[]>(sql`SELECT "category" FROM "Appliance"
    WHERE "organisationId" = ${organisationId} AND "category" IS NOT NULL GROUP BY "category" ORDER BY COUNT(*) DESC, "category" LIMIT 200`);
  return rows.map((row) => row.category);
}

/** What a row of the list shows besides the appliance itself. */
export interface ListedAppliance {
  readonly appliance: Appliance;
  readonly site: { readonly name: string; readonly nominalVolts: number | null } | null;
  readonly unit: string | null;
  readonly outlet: { readonly name: string; readonly receptacles: number } | null;
  /** The worst signal word among its open findings. */
  readonly signal: string | null;
  /** The candidate that is nearest to its being recalled, not counting those decided "not affected". */
  readonly candidate: { readonly id: string; readonly grade: string; readonly number: string; readonly standing: string } | null;
}

const grades = ["covered", "likely", "check_label"];

/** The rows of these ids, in the order of the ids. */
export async function listedAppliances(db: Db, ids: readonly string[]): Promise<ListedAppliance[]> {
  const appliances = await db.appliance.findMany({ where: { id: { in: [...ids] } } });
  const present = (values: (string | null)[]) => [...new Set(values)].filter((value) => value !== null);
  const [sites, units, outlets, findings, candidates] = await Promise.all([
    db.site.findMany({ where: { id: { in: present(appliances.map((row) => row.siteId)) } } }),
    db.unit.findMany({ where: { id: { in: present(appliances.map((row) => row.unitId)) } } }),
    db.outlet.findMany({ where: { id: { in: present(appliances.map((row) => row.outletId)) } } }),
    db.finding.findMany({ where: { applianceId: { in: [...ids] }, closedAt: null }, select: { applianceId: true, signalWord: true } }),
    db.candidate.findMany({
      where: { applianceId: { in: [...ids] }, grade: { in: grades }, standing: { not: "not_affected" } },
      select: { id: true, applianceId: true, grade: true, standing: true, notice: { select: { number: true } } },
      orderBy: [{ score: "desc" }, { id: "asc" }],
    }),
  ]);
  const byId = <T extends { id: string }>(rows: readonly T[]) => new Map(rows.map((row) => [row.id, row]));
  const [appliance, site, unit, outlet] = [byId(appliances), byId(sites), byId(units), byId(outlets)];
  const worst = (id: string) => worstWord(findings.filter((row) => row.applianceId === id).map((row) => row.signalWord));
  const nearest = (id: string) => {
    const own = candidates.filter((row) => row.applianceId === id);
    const best = own.sort((a, b) => grades.indexOf(a.grade) - grades.indexOf(b.grade))[0];
    return best ? { id: best.id, grade: best.grade, number: best.notice.number, standing: best.standing } : null;
  };
  return ids.flatMap((id) => {
    const row = appliance.get(id);
    if (!row) return [];
    const words = { unit: unit.get(row.unitId ?? "")?.name ?? null, outlet: outlet.get(row.outletId ?? "") ?? null };
    return [{ appliance: row, site: site.get(row.siteId) ?? null, ...words, signal: worst(id), candidate: nearest(id) }];
  });
}

function worstWord(words: readonly string[]): string | null {
  return Object.keys(ranks).find((word) => words.includes(word)) ?? null;
}

const mostNames = 20_000;

/** The distinct makers and models, as written. */
export async function makersAndModels(db: Db, organisationId: string): Promise<string[]> {
  const rows = await rawReader(db).$queryRaw<{ name: string }[]>(sql`SELECT "brand" AS "name" FROM "Appliance"
    WHERE "organisationId" = ${organisationId} AND "brand" IS NOT NULL UNION SELECT "model" FROM "Appliance"
    WHERE "organisationId" = ${organisationId} AND "model" IS NOT NULL LIMIT ${mostNames}`);
  return rows.map((row) => row.name);
}
