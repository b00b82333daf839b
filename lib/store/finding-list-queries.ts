import { labelFactColumns, placeColumns } from "./appliance-selects";
import type { Db } from "./client";
import type { Finding, FindingState, Prisma } from "./generated/sqlite/client";

/** Which findings a list shows, inside what the actor may see. */
export interface FindingFilter {
  readonly organisationId: string;
  /** Null is every site. */
  readonly siteIds: readonly string[] | null;
  readonly siteId?: string | undefined;
  readonly states?: readonly FindingState[];
  readonly word?: string | undefined;
  readonly cause?: string | undefined;
  /** A person's id, or null for findings without an owner. */
  readonly ownerId?: string | null | undefined;
  readonly dueBefore?: Date | undefined;
  readonly applianceId?: string | undefined;
  /** Folded words, each of which the appliance or the sentence must hold. */
  readonly words?: readonly string[];
}

const mostMatches = 2000;

/** The appliances and notices that hold a word; findings carry their ids only. */
async function holders(db: Db, organisationId: string, word: string): Promise<Prisma.FindingWhereInput> {
  const where = { organisationId, searchText: { contains: word } };
  const [appliances, notices] = await Promise.all([
    db.appliance.findMany({ where, select: { id: true }, take: mostMatches }),
    db.notice.findMany({ where, select: { id: true }, take: mostMatches }),
  ]);
  const ids = (rows: readonly { id: string }[]) => rows.map(({ id }) => id);
  const capital = word.charAt(0).toUpperCase() + word.slice(1);
  return {
    OR: [
      { applianceId: { in: ids(appliances) } },
      { noticeId: { in: ids(notices) } },
      { sentence: { contains: word } },
      { sentence: { contains: capital } },
      { sentence: { contains: word.toUpperCase() } },
    ],
  };
}

async function whereOf(db: Db, filter: FindingFilter): Promise<Prisma.FindingWhereInput> {
  const { organisationId, siteIds, siteId, states, word, cause, ownerId, dueBefore, applianceId } = filter;
  const words = await Promise.all((filter.words ?? []).map((one) => holders(db, organisationId, one)));
  return {
    organisationId,
    AND: [...words, ...(siteIds === null ? [] : [{ siteId: { in: [...siteIds] } }])],
    ...(siteId ? { siteId } : {}),
    ...(states ? { state: { in: [...states] } } : {}),
    ...(word ? { signalWord: word } : {}),
    ...(cause ? { cause } : {}),
    ...(ownerId === undefined ? {} : { ownerId }),
    ...(dueBefore ? { dueAt: { lt: dueBefore } } : {}),
    ...(applianceId ? { applianceId } : {}),
  };
}

export type FindingSort = "word" | "due" | "since" | "seen" | "closed";

const orders: Readonly<Record<Exclude<FindingSort, "word">, (order: "asc" | "desc") => Prisma.FindingOrderByWithRelationInput[]>> = {
  due: (order) => [{ dueAt: order }, { id: "asc" }],
  since: (order) => [{ openedAt: order }, { id: "asc" }],
  seen: (order) => [{ refreshedAt: order }, { id: "asc" }],
  closed: (order) => [{ closedAt: order }, { id: "asc" }],
};

export interface FindingPage {
  readonly sort: FindingSort;
  readonly order: "asc" | "desc";
  readonly skip: number;
  readonly take: number;
}

const strongestFirst = ["DANGER", "WARNING", "CAUTION", "NOTICE"];

/** A page of findings and how many there are in all. By word: the strongest first (or last), of one word the oldest first. */
export async function findFindings(db: Db, filter: FindingFilter, page: FindingPage): Promise<{ rows: Finding[]; total: number }> {
  const where = await whereOf(db, filter);
  const { sort, order, skip, take } = page;
  if (sort !== "word") {
    const [rows, total] = await Promise.all([
      db.finding.findMany({ where, orderBy: orders[sort](order), skip, take }),
      db.finding.count({ where }),
    ]);
    return { rows, total };
  }
  return byWord(db, where, page);
}

/** The database sorts words by letters, so the page is put together word by word. */
async function byWord(db: Db, where: Prisma.FindingWhereInput, page: FindingPage): Promise<{ rows: Finding[]; total: number }> {
  const counts = await countByWord(db, where);
  const words = page.order === "asc" ? strongestFirst : [...strongestFirst].reverse();
  const rows: Finding[] = [];
  let toSkip = page.skip;
  for (const signalWord of words) {
    const count = counts.get(signalWord) ?? 0;
    if (toSkip < count && rows.length < page.take) {
      const here = { AND: [where, { signalWord }] };
      const take = page.take - rows.length;
      rows.push(...(await db.finding.findMany({ where: here, orderBy: [{ openedAt: "asc" }, { id: "asc" }], skip: toSkip, take })));
    }
    toSkip = Math.max(0, toSkip - count);
  }
  return { rows, total: [...counts.values()].reduce((sum, count) => sum + count, 0) };
}

async function countByWord(db: Db, where: Prisma.FindingWhereInput): Promise<Map<string, number>> {
  const groups = await db.finding.groupBy({ by: ["signalWord"], where, _count: { _all: true } });
  return new Map(groups.map(({ signalWord, _count }) => [signalWord, _count._all]));
}

/** How many findings of each signal word a filter leaves. */
export async function findingCounts(db: Db, filter: FindingFilter): Promise<ReadonlyMap<string, number>> {
  return countByWord(db, await whereOf(db, filter));
}

const applianceShown = {
  id: true,
  tag: true,
  ...placeColumns,
  state: true,
  ...labelFactColumns,
  seenWatts: true,
  allowedWatts: true,
} as const;

/** The rows that findings name by id. */
export async function thingsOf(
  db: Db,
  findings: readonly Pick<Finding, "applianceId" | "outletId" | "circuitId" | "siteId" | "ownerId">[],
) {
  const ids = (pick: (finding: (typeof findings)[number]) => string | null) => [...new Set(findings.flatMap((one) => pick(one) ?? []))];
  const appliances = await db.appliance.findMany({ where: { id: { in: ids((one) => one.applianceId) } }, select: applianceShown });
  const outletIds = [...new Set([...ids((one) => one.outletId), ...appliances.flatMap(({ outletId }) => outletId ?? [])])];
  const outlets = await db.outlet.findMany({
    where: { id: { in: outletIds } },
    select: { id: true, name: true, unitId: true, circuitId: true, receptacles: true },
  });
  const circuitIds = [...new Set([...ids((one) => one.circuitId), ...outlets.flatMap(({ circuitId }) => circuitId ?? [])])];
  const circuits = await db.circuit.findMany({
    where: { id: { in: circuitIds } },
    select: { id: true, name: true, unitId: true, deviceAmps: true, volts: true },
  });
  const unitIds = [...new Set([...appliances, ...outlets, ...circuits].flatMap(({ unitId }) => unitId ?? []))];
  const [units, sites, people] = await Promise.all([
    db.unit.findMany({ where: { id: { in: unitIds } }, select: { id: true, name: true } }),
    db.site.findMany({ where: { id: { in: ids((one) => one.siteId) } }, select: { id: true, name: true, timeZone: true } }),
    db.user.findMany({ where: { id: { in: ids((one) => one.ownerId) } }, select: { id: true, name: true } }),
  ]);
  const byId = <Row extends { id: string }>(rows: readonly Row[]) => new Map(rows.map((row) => [row.id, row]));
  return {
    appliances: byId(appliances),
    outlets: byId(outlets),
    circuits: byId(circuits),
    units: byId(units),
    sites: byId(sites),
    people: byId(people),
  };
}

export type FindingThings = Awaited<ReturnType<typeof thingsOf>>;

/** Names of people by id. */
export async function namesOf(db: Db, ids: readonly (string | null)[]): Promise<ReadonlyMap<string, string>> {
  const wanted = [...new Set(ids.flatMap((id) => id ?? []))];
  const people = await db.user.findMany({ where: { id: { in: wanted } }, select: { id: true, name: true } });
  return new Map(people.map(({ id, name }) => [id, name]));
}
