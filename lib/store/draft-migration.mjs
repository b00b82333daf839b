// Writes the next migration of both providers: node lib/store/draft-migration.mjs NAME. With --check it only tells whether the
// models have moved on since the last migration (exit 1). The schema engine runs as WebAssembly from its npm package, without a
// database: it compares the models with the copy that the last migration left beside itself (as-of.prisma).
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { bindMigrationAwareSqlAdapterFactory } from "@prisma/driver-adapter-utils";
import { joinedSchema } from "./generate.mjs";

const require = createRequire(import.meta.url);
const root = join(import.meta.dirname, "../..");

/** The engine insists on an open connection; comparing two texts asks it for nothing but the server's version. */
function idleFactory(schema) {
  const provider = schema.includes('provider = "sqlite"') ? "sqlite" : "postgres";
  const silent = () => Promise.reject(new Error("Comparing models needs no database."));
  // The one question the PostgreSQL engine asks first: is the schema there, and which server is it.
  const version = {
    columnNames: ["exists", "version", "numeric_version"],
    columnTypes: [5, 7, 0],
    rows: [[true, "PostgreSQL 15.0", 150000]],
  };
  const adapter = {
    provider,
    adapterName: "@prisma/adapter-idle",
    queryRaw: ({ sql }) => (sql.includes("numeric_version") ? Promise.resolve(version) : silent()),
    executeRaw: silent,
    executeScript: silent,
    startTransaction: silent,
    getConnectionInfo: () => ({ schemaName: "public", supportsRelationJoins: false }),
    dispose: () => Promise.resolve(),
  };
  const connect = () => Promise.resolve(adapter);
  return { provider, adapterName: adapter.adapterName, connect, connectToShadowDb: connect };
}

/** The glue keeps views of one memory, so the WebAssembly is set up once for both providers. */
async function loadBindings() {
  const glue = require.resolve("@prisma/schema-engine-wasm/schema_engine_bg");
  const bindings = await import(glue);
  const module = await WebAssembly.instantiate(readFileSync(glue.replace(/\.js$/, ".wasm")), { "./schema_engine_bg.js": bindings });
  bindings.__wbg_set_wasm(module.instance.exports);
  module.instance.exports.__wbindgen_start();
  return bindings;
}

const bindings = await loadBindings();

async function sqlBetween(before, after) {
  const engine = await bindings.SchemaEngine.new(
    { datamodels: [["schema.prisma", after]] },
    () => {},
    bindMigrationAwareSqlAdapterFactory(idleFactory(after)),
  );
  const from = before === null ? { tag: "empty" } : { tag: "schemaDatamodel", files: [{ path: "before.prisma", content: before }] };
  const answer = await engine.diff({
    from,
    to: { tag: "schemaDatamodel", files: [{ path: "after.prisma", content: after }] },
    script: true,
    shadowDatabaseUrl: null,
    exitCode: true,
    filters: { externalTables: [], externalEnums: [] },
  });
  return answer.exitCode === 2 ? answer.stdout : null;
}

const check = process.argv.includes("--check");
const name = process.argv[2];
let behind = false;
for (const provider of ["sqlite", "postgresql"]) {
  const folder = join(root, "prisma", provider, "migrations");
  mkdirSync(folder, { recursive: true });
  const asOf = join(folder, "as-of.prisma");
  const schema = joinedSchema(provider);
  const sql = await sqlBetween(existsSync(asOf) ? readFileSync(asOf, "utf8") : null, schema);
  if (sql === null) continue;
  behind = true;
  if (check) {
    process.stderr.write(`The models have moved on since the last ${provider} migration:\n${sql}\n`);
    continue;
  }
  const number = String(readdirSync(folder).filter((entry) => /^\d{4}_/.test(entry)).length + 1).padStart(4, "0");
  const target = join(folder, `${number}_${name}`);
  mkdirSync(target);
  writeFileSync(join(target, "migration.sql"), sql);
  writeFileSync(asOf, schema);
  process.stdout.write(`${target}\n`);
}
process.exit(check && behind ? 1 : 0);
