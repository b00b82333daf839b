import { readdirSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { findRings, readSources, root, type SourceFile } from "./support/import-graph";

/** Who may import whom: the arrows of the house. A room may always import its own files. */
const pure = ["electrical", "identity", "notices", "matching", "watch", "casework"];
const mayImport: Readonly<Record<string, readonly string[]>> = {
  electrical: [],
  identity: [],
  notices: ["identity", "electrical"],
  watch: ["identity", "electrical"],
  matching: ["notices", "identity"],
  casework: ["matching", "watch", "electrical"],
  store: pure,
  access: [...pure, "store"],
  registry: [...pure, "store", "access"],
  documents: [...pure, "store", "access", "registry"],
  jobs: [...pure, "store", "access", "registry", "documents"],
  cli: [...pure, "store", "access", "registry", "documents", "jobs", "seed"],
  app: [...pure, "store", "access", "registry", "documents", "jobs"],
  seed: [...pure, "store", "access", "registry", "documents", "jobs", "cli"],
};
/** A pure room's one file that touches storage counts as the registry. */
const isRun = (path: string) => /^lib\/\w+\/[\w-]+\.run\.ts$/.test(path);
const files = readSources(["app", "lib", "seed"]);

function roomOf(path: string): string {
  const [top, second] = path.split("/");
  return top === "lib" ? (second ?? "") : (top ?? "");
}

function arrowsOf(file: SourceFile): { from: string; allowed: readonly string[] } {
  const from = roomOf(file.path);
  return isRun(file.path) ? { from, allowed: mayImport["registry"] ?? [] } : { from, allowed: mayImport[from] ?? [] };
}

function forbidden(file: SourceFile): string[] {
  const { from, allowed } = arrowsOf(file);
  const edge = ["registry", "documents", "jobs", "cli", "app", "seed"].includes(from) || isRun(file.path);
  return file.imports
    .filter((target) => {
      if (isRun(target)) return !edge;
      if (isRun(file.path) && roomOf(target) === "registry") return false;
      return roomOf(target) !== from && !allowed.includes(roomOf(target));
    })
    .map((target) => `${file.path} imports ${target}`);
}

describe("the house", () => {
  it("keeps every import along the arrows", () => {
    expect(files.flatMap(forbidden)).toEqual([]);
  });

  it("has no ring of imports, type imports included", () => {
    expect(findRings(files)).toEqual([]);
  });

  it("finds a ring and a forbidden arrow when there is one", () => {
    const file = (path: string, imports: string[]): SourceFile => ({ path, imports, text: "", packages: [] });
    expect(findRings([file("lib/a.ts", ["lib/b.ts"]), file("lib/b.ts", ["lib/c.ts"]), file("lib/c.ts", ["lib/b.ts"])])).toEqual([
      ["lib/b.ts", "lib/c.ts", "lib/b.ts"],
    ]);
    expect(forbidden(file("lib/electrical/volts.ts", ["lib/store/client.ts"]))).toHaveLength(1);
    expect(forbidden(file("lib/matching/index.ts", ["lib/matching/cross-check.run.ts"]))).toHaveLength(1);
  });

  it("names Prisma in the store only", () => {
    const outside = files.filter((file) => roomOf(file.path) !== "store" && file.packages.some((name) => /prisma/i.test(name)));
    expect(outside.map((file) => file.path)).toEqual([]);
  });

  it("keeps Next and React out of lib", () => {
    const strayed = files.filter(
      (file) => file.path.startsWith("lib/") && file.packages.some((name) => /^(next|react|react-dom|server-only)(\/|$)/.test(name)),
    );
    expect(strayed.map((file) => file.path)).toEqual([]);
  });

  it("keeps input, output, clocks and chance out of the pure rooms", () => {
    const strayed = files.filter(
      (file) =>
        pure.includes(roomOf(file.path)) &&
        file.path.startsWith("lib/") &&
        !isRun(file.path) &&
        (file.packages.some((name) => /^(node:|fs$|pg$|better-sqlite3)/.test(name)) ||
          /\bDate\.now\(\)|new Date\(\)|Math\.random\(|process\.env|\bfetch\(/.test(file.text)),
    );
    expect(strayed.map((file) => file.path)).toEqual([]);
  });

  it("has at most one storage file a pure room's subject, and no drawers or barrels", () => {
    const names = files.map((file) => file.path);
    expect(names.filter((path) => /(^|\/)(utils?|helpers?|common|misc|types)\.(ts|tsx|mjs)$/.test(path))).toEqual([]);
    expect(names.filter((path) => /(^|\/)index\.tsx?$/.test(path))).toEqual([]);
    expect(names.filter((path) => path.endsWith(".run.ts") && !isRun(path))).toEqual([]);
  });

  it("keeps every file short enough to tell one story", () => {
    const long = files.map((file) => ({ path: file.path, lines: file.text.split("\n").length })).filter((file) => file.lines > 400);
    expect(long).toEqual([]);
  });

  it("keeps the top level to what stands there", () => {
    const allowed = [
      "README.md",
      "DEVELOPERS.md",
      "package.json",
      "package-lock.json",
      "tsconfig.json",
      "next.config.mjs",
      "next-env.d.ts",
      "biome.json",
      "proxy.ts",
      "instrumentation.ts",
      "app",
      "prisma",
      "lib",
      "tests",
      "seed",
      "node_modules",
    ];
    expect(readdirSync(root).filter((name) => !name.startsWith(".") && !allowed.includes(name) && !name.endsWith(".tsbuildinfo"))).toEqual(
      [],
    );
  });
});
