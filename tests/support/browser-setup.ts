import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { root } from "./import-graph";
import { browserListPort } from "./list-server";

const port = Number(process.env["PLATEWARDEN_TEST_PORT"] ?? 4321);

/** Loads the demo portfolio into a database of its own and serves the built app from it. */
export default async function setup(): Promise<() => void> {
  const folder = mkdtempSync(join(tmpdir(), "pw-browser-"));
  const env = {
    ...process.env,
    DATABASE_URL: `file:${join(folder, "platewarden.db")}`,
    PLATEWARDEN_DATA: folder,
    PLATEWARDEN_URL: `http://localhost:${port}`,
    PLATEWARDEN_LIST_HOSTS: `127.0.0.1:${browserListPort}`,
    PORT: String(port),
    HOSTNAME: "127.0.0.1",
  };
  process.env["PLATEWARDEN_BROWSER_DATA"] = folder;
  const seeded = spawnSync(join(root, "node_modules/.bin/tsx"), ["seed/load-demo.ts"], { cwd: root, env, stdio: "inherit" });
  if (seeded.status !== 0) throw new Error("Loading the demo failed.");
  const server = spawn(process.execPath, [join(root, ".next/standalone/server.js")], {
    cwd: root,
    env: { ...env, NODE_ENV: "production" },
    stdio: "inherit",
  });
  await untilUp(server);
  return () => {
    server.kill();
    rmSync(folder, { recursive: true, force: true });
  };
}

async function untilUp(server: ChildProcess): Promise<void> {
  const until = Date.now() + 60_000;
  while (Date.now() < until && server.exitCode === null) {
    const up = await fetch(`http://127.0.0.1:${port}/api/health`).then(
      (answer) => answer.ok,
      () => false,
    );
    if (up) return;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  server.kill();
  throw new Error("The server did not come up.");
}
