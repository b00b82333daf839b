import Database from "better-sqlite3";
import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { makerKey } from "@/lib/identity/maker";
import { modelKey } from "@/lib/identity/model-number";
import { foldedModelOf } from "@/lib/matching/appliance-reading";

type Cell = string | number | null;

/** The cells of an Appliance row, without what only lists and limits use. */
function cellsOf(facts: ApplianceFacts, at: { readonly organisationId: string; readonly siteId: string }): Record<string, Cell> {
  const { brand, model } = facts;
  const now = "2026-01-01T00:00:00.000+00:00";
  return {
    ...facts,
    ...at,
    tag: facts.id,
    tagKey: facts.id,
    brandKey: brand === null ? "" : makerKey(brand),
    modelKey: model === null ? "" : modelKey(model),
    foldedModel: foldedModelOf(facts),
    searchText: [facts.id, brand, model, facts.category].join(" ").toLowerCase(),
    contentHash: "",
    createdAt: now,
    updatedAt: now,
  };
}

interface SchemaRow {
  readonly name: string;
  readonly sql: string;
}

/** Inserts a whole registry into a migrated database; its indexes are built afterwards, which takes a fraction of the time. */
export function storeRegistry(
  file: string,
  appliances: readonly ApplianceFacts[],
  at: { readonly organisationId: string; readonly siteId: string },
): void {
  const db = new Database(file);
  const find = db.prepare<[], SchemaRow>(
    `SELECT name, sql FROM sqlite_master WHERE type = 'index' AND tbl_name = 'Appliance' AND sql <> ''`,
  );
  const indexes = find.all();
  for (const { name } of indexes) db.exec(`DROP INDEX "${name}"`);
  const names = Object.keys(cellsOf(appliances[0] as ApplianceFacts, at));
  const insert = db.prepare(`INSERT INTO "Appliance" (${names.map((name) => `"${name}"`).join()}) VALUES (${names.map(() => "?").join()})`);
  db.transaction(() => {
    for (const facts of appliances) {
      const cells = cellsOf(facts, at);
      insert.run(names.map((name) => cells[name]));
    }
  })();
  for (const { sql } of indexes) db.exec(sql);
  db.exec("ANALYZE");
  db.close();
}

/** Reads the facts of every appliance, as a comparison of all with one notice would have to. */
export function readRegistry(file: string, organisationId: string): { ms: number; rows: number } {
  const db = new Database(file, { readonly: true });
  const rows = db.prepare<[string], ApplianceFacts>(
    `SELECT "id", "brand", "model", "serial", "dateCode", "made", "category", "upc", "labelText"
     FROM "Appliance" WHERE "organisationId" = ? AND "state" <> 'retired'`,
  );
  const started = performance.now();
  let count = 0;
  for (const row of rows.iterate(organisationId)) if (row.id !== "") count++;
  const ms = performance.now() - started;
  db.close();
  return { ms, rows: count };
}
