import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Database from "better-sqlite3";
import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { crossCheck } from "@/lib/matching/cross-check";
import { buildRecallIndex } from "@/lib/matching/recall-index";
import type { Bench, BenchResult } from "./bench-result";
import { Random } from "./random";
import { makeRegistry } from "./synthetic-registry";
import { makeWorld } from "./synthetic-world";

const columns = ["id", "brand", "model", "serial", "dateCode", "made", "category", "upc", "labelText"] as const;

function store(file: string, appliances: readonly ApplianceFacts[]): void {
  const db = new Database(file);
  db.pragma("journal_mode = WAL");
  db.exec(`CREATE TABLE appliance (${columns.map((column) => `${column} TEXT`).join(", ")}, PRIMARY KEY (id))`);
  const insert = db.prepare(`INSERT INTO appliance VALUES (${columns.map(() => "?").join(", ")})`);
  db.transaction(() => {
    for (const appliance of appliances) insert.run(columns.map((column) => appliance[column]));
  })();
  db.close();
}

function readAll(file: string): { ms: number; rows: number } {
  const db = new Database(file, { readonly: true });
  const started = performance.now();
  let rows = 0;
  for (const row of db.prepare<[], ApplianceFacts>("SELECT * FROM appliance").iterate()) if (row.id !== null) rows++;
  const ms = performance.now() - started;
  db.close();
  return { ms, rows };
}

/** New notices against a whole registry in memory, beside only reading the registry's rows from an embedded database. */
export const bench: Bench = async ({ small }) => {
  const world = makeWorld({ brands: 900, families: 20_000, notices: 1_000, seed: 20_260_101 });
  const { appliances } = makeRegistry(new Random(5), world, { appliances: small ? 20_000 : 1_000_000, level: 1, withTruth: false });
  const folder = mkdtempSync(join(tmpdir(), "one-notice-"));
  try {
    const file = join(folder, "registry.db");
    store(file, appliances);
    readAll(file);
    const theirs = readAll(file);
    return [1, 10, 100].map((count): BenchResult => {
      const listing = world.notices.filter(({ toIndex }) => toIndex.coverage.models.include.length > 0).slice(0, count);
      const started = performance.now();
      const index = buildRecallIndex(listing.map(({ toIndex }) => toIndex));
      let candidates = 0;
      for (const appliance of appliances) candidates += crossCheck(index, appliance).length;
      const ms = performance.now() - started;
      return {
        bench: "one-notice",
        measure: `${count} new notice${count === 1 ? "" : "s"} against ${appliances.length} appliances / reading the rows from SQLite`,
        ratio: ms / theirs.ms,
        ours: { ms: Math.round(ms), candidates },
        theirs: { ms: Math.round(theirs.ms), rows: theirs.rows },
        n: 1,
      };
    });
  } finally {
    rmSync(folder, { recursive: true });
  }
};
