// Joins each provider's header with the one models file and generates its client. Node built-ins only: it runs right after
// the install. The generator needs no engine; the two variables keep Prisma from looking for one to download.
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const root = join(import.meta.dirname, "../..");
const target = join(root, "lib/store/generated");
const prismaCommand = join(root, "node_modules/prisma/build/index.js");
const providers = ["sqlite", "postgresql"];

export function joinedSchema(provider) {
  return `${readFileSync(join(root, `prisma/${provider}.prisma`), "utf8")}\n${readFileSync(join(root, "prisma/models.prisma"), "utf8")}`;
}

function generate(provider) {
  const schema = joinedSchema(provider);
  const folder = join(target, `${provider}-schema`);
  const stampFile = join(target, `${provider}.stamp`);
  const stamp = createHash("sha256").update(schema).digest("hex");
  if (existsSync(stampFile) && readFileSync(stampFile, "utf8") === stamp && existsSync(join(target, provider))) return;
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, "schema.prisma"), schema);
  const run = spawnSync(process.execPath, [prismaCommand, "generate", "--schema", join(folder, "schema.prisma")], {
    cwd: root,
    encoding: "utf8",
    env: { ...process.env, PRISMA_SCHEMA_ENGINE_BINARY: process.execPath, PRISMA_HIDE_UPDATE_MESSAGE: "1", CHECKPOINT_DISABLE: "1" },
  });
  if (run.status !== 0) throw new Error(`Generating the ${provider} client failed:\n${run.stdout}${run.stderr}`);
  writeFileSync(stampFile, stamp);
}

/** Without the development packages there is nothing to generate with, and nothing to do. */
export function generateClients() {
  if (existsSync(prismaCommand)) for (const provider of providers) generate(provider);
}

if (process.argv[1] === import.meta.filename) generateClients();
