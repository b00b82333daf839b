// README command 1: installs, prepares the embedded database with the invented portfolio, builds and serves the production app.
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { bin, Failed, prepare, root, run, startServer } from "./prepare.mjs";

const port = Number(process.env.PORT ?? 3000);
const dataFolder = process.env.PLATEWARDEN_DATA ?? join(root, ".data/demo");
const databaseUrl = process.env.DATABASE_URL ?? `file:${join(dataFolder, "platewarden.db")}`;
const env = {
  DATABASE_URL: databaseUrl,
  PLATEWARDEN_DATA: dataFolder,
  PLATEWARDEN_URL: process.env.PLATEWARDEN_URL ?? `http://localhost:${port}`,
};

async function main() {
  if (!Number.isInteger(port) || port < 1 || port > 65535)
    throw new Failed(`PORT must be a number from 1 to 65535; it is "${process.env.PORT}".`);
  await prepare({ withBuild: true });
  run(bin("tsx"), ["seed/load-demo.ts"], { env });
  const server = await startServer({ port, host: process.env.HOSTNAME_BIND ?? "127.0.0.1", env });
  for (const signal of ["SIGINT", "SIGTERM"]) process.on(signal, () => server.kill(signal));
  server.on("exit", (code) => process.exit(code ?? 0));
  const signIns = join(dataFolder, "demo-sign-ins.txt");
  process.stdout.write(
    `\nPlatewarden is ready: ${env.PLATEWARDEN_URL}\n${existsSync(signIns) ? readFileSync(signIns, "utf8") : ""}Stop it with Ctrl-C.\n`,
  );
}

main().catch((error) => {
  process.stderr.write(`${error instanceof Failed ? error.message : (error?.stack ?? error)}\n`);
  process.exit(1);
});
