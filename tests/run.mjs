// README command 2: installs what is missing, then runs every check: lint, types, structure, unit, flow and browser tests.
import { spawnSync } from "node:child_process";
import { existsSync, readdirSync } from "node:fs";
import { bin, Failed, prepare, root, run } from "../lib/cli/prepare.mjs";

const isRoot = process.getuid?.() === 0;
const leftOut = [];

/** Debian packages the tests need; only root can add them. */
function ensurePackage({ name, present, needed }) {
  if (present()) return true;
  if (isRoot && existsSync("/usr/bin/apt-get")) {
    process.stdout.write(`Installing ${name} ...\n`);
    const env = { DEBIAN_FRONTEND: "noninteractive" };
    run("apt-get", ["update", "-qq"], { env, stdio: ["ignore", "ignore", "inherit"] });
    run("apt-get", ["install", "-y", "-qq", "--no-install-recommends", name], { env, stdio: ["ignore", "ignore", "inherit"] });
    if (present()) return true;
  }
  leftOut.push(`${needed}: ${name} is not installed, and installing it needs root (apt-get install ${name})`);
  return false;
}

const hasChromium = () => existsSync(process.env.CHROMIUM_PATH ?? "/usr/bin/chromium");
const hasPostgresql = () => {
  const folder = "/usr/lib/postgresql";
  return existsSync(folder) && readdirSync(folder).some((version) => existsSync(`${folder}/${version}/bin/initdb`));
};

function step(name, command, args, env = {}) {
  process.stdout.write(`\n== ${name}\n`);
  const started = Date.now();
  const done = spawnSync(command, args, { cwd: root, stdio: "inherit", env: { ...process.env, ...env } });
  const seconds = ((Date.now() - started) / 1000).toFixed(0);
  process.stdout.write(`-- ${name}: ${done.status === 0 ? "passed" : "FAILED"} in ${seconds} s\n`);
  return { name, passed: done.status === 0 };
}

async function main() {
  const browser = ensurePackage({ name: "chromium", present: hasChromium, needed: "the browser tests" });
  ensurePackage({ name: "postgresql", present: hasPostgresql, needed: "the tests on PostgreSQL" });
  await prepare({ withBuild: browser });
  const vitest = (project) => step(project, bin("vitest"), ["run", "--config", "tests/vitest.config.ts", "--project", project]);
  const results = [
    step("format and lint", bin("biome"), ["check", "."]),
    step("typed lint", bin("eslint"), ["--config", "tests/eslint.config.mjs", "app", "lib", "seed", "tests"]),
    step("types", bin("tsc"), ["--noEmit"]),
    vitest("structure"),
    vitest("unit"),
    vitest("flow"),
  ];
  if (browser) results.push(step("browser", bin("playwright"), ["test", "--config", "tests/playwright.config.ts"]));
  const failed = results.filter((result) => !result.passed);
  process.stdout.write("\n");
  for (const sentence of leftOut) process.stdout.write(`Left out, ${sentence}.\n`);
  if (failed.length > 0) process.stdout.write(`Failed: ${failed.map((result) => result.name).join(", ")}.\n`);
  process.stdout.write(`${results.length - failed.length} passed, ${failed.length} failed\n`);
  const strict = process.env.PLATEWARDEN_LEAVE_NOTHING_OUT === "1" && leftOut.length > 0;
  process.exit(failed.length > 0 || strict ? 1 : 0);
}

main().catch((error) => {
  process.stderr.write(`${error instanceof Failed ? error.message : (error?.stack ?? error)}\n0 passed, 1 failed\n`);
  process.exit(1);
});
