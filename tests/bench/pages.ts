import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Fuse from "fuse.js";
import { commandLineActor } from "@/lib/access/actor";
import { applianceColumns, type LabelFacts } from "@/lib/registry/appliance-columns";
import { applianceQuery, filterOf, listAppliances, listChoices } from "@/lib/registry/appliance-list";
import { listCount, listIds } from "@/lib/store/appliance-list-queries";
import { labelFactNames } from "@/lib/store/appliance-selects";
import { type BulkValue, bulkInsert, type ColumnType } from "@/lib/store/bulk";
import type { Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { prepareStore } from "@/lib/store/prepare";
import { makeOrganisation, makeSite } from "../../seed/builders";
import { makeChance } from "../../seed/chance";
import { families } from "../../seed/makers";
import type { BenchOptions, BenchResult } from "./bench-result";
import { suggestionResults } from "./suggestions";

const blank = Object.fromEntries(labelFactNames.map((name) => [name, null])) as unknown as LabelFacts;
const now = new Date("2026-03-02T12:00:00Z");
const rounds = 7;
const unitCount = 400;

interface Portfolio {
  readonly db: Store;
  readonly organisationId: string;
  readonly texts: readonly { readonly id: string; readonly text: string }[];
}

const figures = new Set(["ratedWatts", "ratedAmps", "inputWatts", "inputAmps", "allowedWatts", "allowedAmps", "seenWatts"]);

function typeOf(name: string): ColumnType {
  return figures.has(name) ? "real" : name.endsWith("At") ? "timestamp" : "text";
}

async function insertRows(db: Store, rows: readonly object[]): Promise<void> {
  const columns = Object.keys(rows[0] ?? {}).map((name) => ({ name, type: typeOf(name) }));
  await bulkInsert(db, { table: "Appliance", columns, rows: rows.map((row) => Object.values(row) as BulkValue[]) });
}

/** An invented registry of `size` appliances in 400 units, two of three with readings, one of a hundred with an open finding. */
async function makePortfolio(db: Store, size: number): Promise<Portfolio> {
  const chance = makeChance(41);
  const { id: organisationId } = await makeOrganisation(db);
  const { site } = await makeSite(db, organisationId);
  const units = Array.from({ length: unitCount }, (_, i) => ({
    id: newId(),
    organisationId,
    siteId: site.id,
    name: `u${i}`,
    nameKey: `u${i}`,
  }));
  await db.unit.createMany({ data: units });
  const texts: { id: string; text: string }[] = [];
  for (let made = 0; made < size; made += 2000) {
    const rows = Array.from({ length: Math.min(2000, size - made) }, (_, i) => {
      const { maker, category, models, watts, serialLetters } = chance.pick(families);
      const facts = {
        ...blank,
        category,
        brand: maker,
        model: chance.pick(models),
        serial: `${serialLetters}${made + i}`,
        ratedWatts: watts,
      };
      const columns = applianceColumns(`B-${made + i}`, facts);
      const seenWatts = chance.happens(0.66) ? Math.round(watts * chance.next() * 1.15) : null;
      const lastSeenAt = new Date(now.getTime() - chance.whole(0, 1_000_000) * 1000);
      const unitId = chance.pick(units).id;
      const id = newId();
      texts.push({ id, text: columns.searchText });
      return {
        id,
        organisationId,
        tag: `B-${made + i}`,
        siteId: site.id,
        unitId,
        ...facts,
        ...columns,
        seenWatts,
        lastSeenAt,
        updatedAt: now,
      };
    });
    await insertRows(db, rows);
  }
  const findings = texts.filter((_, i) => i % 100 === 0);
  const finding = {
    organisationId,
    cause: "over_rating",
    siteId: site.id,
    sentence: "Above its rating.",
    evidence: {},
    state: "open" as const,
  };
  await db.finding.createMany({
    data: findings.map(({ id }, i) => ({
      ...finding,
      id: newId(),
      key: id,
      applianceId: id,
      signalWord: i % 3 === 0 ? "DANGER" : "WARNING",
      openedAt: now,
      refreshedAt: now,
      dueAt: now,
    })),
  });
  return { db, organisationId, texts };
}

/** The median of several runs after one to warm up, milliseconds. */
async function median(work: () => unknown): Promise<number> {
  await work();
  const times: number[] = [];
  for (let round = 0; round < rounds; round++) {
    const start = performance.now();
    await work();
    times.push(performance.now() - start);
  }
  return Math.round((times.sort((a, b) => a - b)[Math.floor(rounds / 2)] ?? 0) * 10) / 10;
}

/** What each page asks of the database, whole: rows, counts and what the filters offer. */
const asked: Readonly<Record<string, Record<string, string>>> = {
  "first page, worst first": {},
  "first page by tag": { sort: "tag" },
  "last page by tag": { sort: "tag", page: "1000000" },
  "middle page, worst first": { page: "1000" },
  "sort by seen": { sort: "seen" },
  "sort by place": { sort: "where" },
  "filter: above what it may": { stands: "over" },
  "filter: danger": { signal: "DANGER" },
  "search: maker and model": { q: "pellwick dh" },
  "search: nothing found": { q: "zzqx-404" },
};

async function pageResults({ db, organisationId, texts }: Portfolio): Promise<BenchResult[]> {
  const actor = commandLineActor(organisationId);
  const n = texts.length;
  const results: BenchResult[] = [];
  for (const [measure, address] of Object.entries(asked)) {
    const query = applianceQuery.parse(address);
    const ms = await median(() => Promise.all([listAppliances(db, actor, { query, now }), listChoices(db, actor, { query, now })]));
    results.push({ bench: "pages", measure: `list of ${n}, ${measure}`, ours: { ms }, n: rounds });
  }
  return results;
}

/**
 * The same search by Fuse.js over the same texts, kept in memory and indexed beforehand: once for exact words, as the database
 * does, once as fuzzy as it is by default. The database's time is the page of ids and their count.
 */
async function searchAgainstFuse({ db, organisationId, texts }: Portfolio): Promise<BenchResult[]> {
  const filter = filterOf(commandLineActor(organisationId), applianceQuery.parse({ q: "pellwick dh" }), now);
  const page = { sort: "tag", descending: false, skip: 0, take: 50 } as const;
  const ours = await median(() => Promise.all([listCount(db, filter), listIds(db, filter, page)]));
  const kinds = {
    "exact words": { query: "'pellwick 'dh", options: { useExtendedSearch: true, threshold: 0 } },
    fuzzy: { query: "pellwick dh", options: {} },
  };
  const results: BenchResult[] = [];
  for (const [kind, { query, options }] of Object.entries(kinds)) {
    const started = performance.now();
    const fuse = new Fuse(texts, { keys: ["text"], ignoreLocation: true, ...options });
    const indexMs = Math.round(performance.now() - started);
    const theirs = await median(() => fuse.search(query, { limit: 50 }).length);
    const measure = `search of ${texts.length}: database / Fuse.js in memory, ${kind}`;
    results.push({ bench: "pages", measure, ratio: ours / theirs, ours: { ms: ours }, theirs: { ms: theirs, indexMs }, n: rounds });
  }
  return results;
}

/** What the list's pages cost at 100,000 appliances on the embedded database. */
export async function bench({ small }: BenchOptions): Promise<BenchResult[]> {
  const folder = mkdtempSync(join(tmpdir(), "pw-pages-"));
  const db = await prepareStore(`file:${join(folder, "bench.db")}`);
  try {
    const portfolio = await makePortfolio(db, small ? 10_000 : 100_000);
    return [...(await pageResults(portfolio)), ...(await searchAgainstFuse(portfolio)), ...suggestionResults(small ? 1000 : 10_000)];
  } finally {
    await db.$disconnect();
    rmSync(folder, { recursive: true, force: true });
  }
}
