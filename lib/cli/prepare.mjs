// What both README commands need before they can start, with Node's built-ins only, because nothing is installed yet:
// install the packages when the lock file or Node changed, generate the database clients, build the app when its sources changed.
import { spawn, spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";

export const root = join(import.meta.dirname, "../..");
const stamps = join(root, ".run");

export class Failed extends Error {}

/** Runs a command with its output shown; throws `Failed` when it fails. */
export function run(command, args, extra = {}) {
  const { env, ...options } = extra;
  const done = spawnSync(command, args, { cwd: root, stdio: "inherit", ...options, env: { ...process.env, ...env } });
  if (done.status !== 0) throw new Failed(`${[command, ...args].join(" ")} failed${done.signal ? ` (${done.signal})` : ""}.`);
}

/** A package's command, called by its path so that no shell or npx stands between. */
export function bin(name) {
  return join(root, "node_modules/.bin", name);
}

function hashOf(paths) {
  const hash = createHash("sha256").update(process.version);
  const add = (path) => {
    const full = join(root, path);
    if (!existsSync(full)) return;
    if (!statSync(full).isDirectory()) return void hash.update(path).update(readFileSync(full));
    for (const name of readdirSync(full).sort()) if (name !== "generated" && name !== "screens") add(join(path, name));
  };
  for (const path of paths) add(path);
  return hash.digest("hex");
}

/** Does `work` when what it depends on changed since it last succeeded. The stamp is written after success only. */
function whenChanged(name, paths, present, work) {
  const file = join(stamps, name);
  const now = hashOf(paths);
  if (present() && existsSync(file) && readFileSync(file, "utf8") === now) return;
  work();
  mkdirSync(stamps, { recursive: true });
  writeFileSync(file, now);
}

/** Two commands started at once in one folder take turns: the second waits until the first has prepared. */
async function withLock(work) {
  mkdirSync(stamps, { recursive: true });
  const lock = join(stamps, "lock");
  for (;;) {
    try {
      writeFileSync(lock, String(process.pid), { flag: "wx" });
      break;
    } catch {
      const holder = Number(existsSync(lock) ? readFileSync(lock, "utf8") : 0);
      if (!holder || !isAlive(holder)) rmSync(lock, { force: true });
      else await new Promise((resolve) => setTimeout(resolve, 500));
    }
  }
  try {
    return await work();
  } finally {
    rmSync(lock, { force: true });
  }
}

function isAlive(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === "EPERM";
  }
}

function install() {
  process.stdout.write("Installing the packages (about two minutes the first time) ...\n");
  const prefix = dirname(dirname(process.execPath));
  // Compiling the embedded database needs Node's headers; where this Node brings them, nothing must be downloaded for it.
  const headers = existsSync(join(prefix, "include/node/node.h")) ? { npm_config_nodedir: prefix } : {};
  run("npm", ["ci", "--include=dev", "--no-fund", "--no-audit", "--loglevel=error"], {
    env: { ...headers, PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD: "1", PRISMA_SCHEMA_ENGINE_BINARY: process.execPath },
  });
}

/** The standalone server leaves its static files and the migrations to whoever assembles it. */
function build() {
  process.stdout.write("Building the app ...\n");
  run(bin("next"), ["build"], { env: { NEXT_TELEMETRY_DISABLED: "1", NODE_ENV: "production" } });
  const server = join(root, ".next/standalone");
  cpSync(join(root, ".next/static"), join(server, ".next/static"), { recursive: true });
  for (const provider of ["sqlite", "postgresql"]) {
    cpSync(join(root, "prisma", provider, "migrations"), join(server, "prisma", provider, "migrations"), { recursive: true });
  }
}

/** Installs and generates what is missing; with `withBuild` the production app too. */
export function prepare({ withBuild }) {
  return withLock(() => {
    whenChanged("installed", ["package.json", "package-lock.json"], () => existsSync(join(root, "node_modules/next")), install);
    run(process.execPath, ["lib/store/generate.mjs"]);
    if (withBuild) {
      const sources = ["app", "lib", "prisma", "package-lock.json", "next.config.mjs", "proxy.ts", "instrumentation.ts", "tsconfig.json"];
      whenChanged("built", sources, () => existsSync(join(root, ".next/standalone/server.js")), build);
    }
  });
}

/** Starts the built server and waits until its health page answers. Returns the child process. */
export async function startServer({ port, host, env }) {
  const child = spawn(process.execPath, [join(root, ".next/standalone/server.js")], {
    cwd: root,
    stdio: "inherit",
    env: { ...process.env, NODE_ENV: "production", PORT: String(port), HOSTNAME: host, ...env },
  });
  const until = Date.now() + 60_000;
  while (Date.now() < until) {
    if (child.exitCode !== null) throw new Failed(`The server stopped at once (exit ${child.exitCode}); is port ${port} in use?`);
    const up = await fetch(`http://127.0.0.1:${port}/api/health`).then(
      (answer) => answer.ok,
      () => false,
    );
    if (up) return child;
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
  child.kill();
  throw new Failed("The server did not answer within a minute.");
}
