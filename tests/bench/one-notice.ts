import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Actor, commandLineActor } from "@/lib/access/actor";
import { checkAgain } from "@/lib/matching/cross-check.run";
import type { Store } from "@/lib/store/client";
import { prepareStore } from "@/lib/store/prepare";
import { makeOrganisation, makeSite } from "@/seed/builders";
import type { Bench, BenchResult } from "./bench-result";
import { Random } from "./random";
import { readRegistry, storeRegistry } from "./stored-registry";
import { makeRegistry } from "./synthetic-registry";
import { makeWorld, type SyntheticNotice } from "./synthetic-world";

const now = new Date("2026-01-05T08:00:00Z");

/** Stores a notice as a load would leave it, not yet compared. Returns its id. */
async function storeNotice(db: Store, organisationId: string, { toIndex: { key, coverage, notice } }: SyntheticNotice): Promise<string> {
  const body: object = { title: notice.title, description: notice.description };
  const reading: object = coverage;
  const texts = { number: key, title: key, searchText: "", contentHash: key, coverageHash: key, brandKeys: "" };
  await db.notice.create({
    data: {
      ...{ id: key, key, organisationId, source: "invented", ...texts, body, coverage: reading },
      ...{ hasIdentifiers: true, firstLoadedAt: now },
    },
  });
  return key;
}

interface Stored {
  readonly file: string;
  readonly db: Store;
  readonly actor: Actor;
  readonly organisationId: string;
}

/** Compares some new notices with the stored registry and stores the candidates, as a load of a list does. */
async function compareNew(stored: Stored, notices: readonly SyntheticNotice[], theirs: { ms: number; rows: number }): Promise<BenchResult> {
  const { db, actor, organisationId } = stored;
  const noticeIds: string[] = [];
  for (const notice of notices) noticeIds.push(await storeNotice(db, organisationId, notice));
  const started = performance.now();
  const { appliances, added } = await checkAgain(db, actor, { now, only: { noticeIds } });
  const ms = performance.now() - started;
  return {
    bench: "one-notice",
    measure: `${notices.length} new notice${notices.length === 1 ? "" : "s"} against ${theirs.rows} stored appliances, candidates stored / reading the rows`,
    ratio: ms / theirs.ms,
    ours: { ms: Math.round(ms), looked: appliances, candidates: added },
    theirs: { ms: Math.round(theirs.ms), rows: theirs.rows },
    n: 1,
  };
}

/**
 * New notices against a whole registry in the embedded database, end to end, beside only reading the appliances' facts from it; the
 * better of two readings. The first notice is there to warm up and is not reported.
 */
export const bench: Bench = async ({ small }) => {
  const world = makeWorld({ brands: 900, families: 20_000, notices: 1_000, seed: 20_260_101 });
  const { appliances } = makeRegistry(new Random(5), world, { appliances: small ? 20_000 : 1_000_000, level: 1, withTruth: false });
  const folder = mkdtempSync(join(tmpdir(), "one-notice-"));
  const file = join(folder, "registry.db");
  const db = await prepareStore(`file:${file}`);
  try {
    const { id: organisationId } = await makeOrganisation(db);
    const { site } = await makeSite(db, organisationId);
    storeRegistry(file, appliances, { organisationId, siteId: site.id });
    const readings = [readRegistry(file, organisationId), readRegistry(file, organisationId)];
    const theirs = readings.reduce((best, one) => (one.ms < best.ms ? one : best));
    const stored: Stored = { file, db, actor: commandLineActor(organisationId), organisationId };
    const listing = world.notices.filter(({ toIndex }) => toIndex.coverage.models.include.length > 0);
    await compareNew(stored, listing.slice(0, 1), theirs);
    const results: BenchResult[] = [];
    for (const [from, to] of [
      [1, 2],
      [2, 3],
      [3, 4],
      [10, 20],
      [100, 200],
    ])
      results.push(await compareNew(stored, listing.slice(from, to), theirs));
    return results;
  } finally {
    await db.$disconnect();
    rmSync(folder, { recursive: true });
  }
};
