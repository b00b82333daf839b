import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";

export const root = fileURLToPath(new URL("../..", import.meta.url)).replace(/\/$/, "");

export interface SourceFile {
  /** Path from the root, with `/`. */
  readonly path: string;
  readonly text: string;
  /** Our own files it imports, type imports included, by path from the root. */
  readonly imports: readonly string[];
  /** Packages it imports, by the name written. */
  readonly packages: readonly string[];
}

function walk(folder: string): string[] {
  return readdirSync(join(root, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = `${folder}/${entry.name}`;
    if (entry.isDirectory()) return entry.name === "generated" || entry.name.startsWith(".") ? [] : walk(path);
    return /\.(ts|tsx|mjs)$/.test(entry.name) ? [path] : [];
  });
}

function resolve(from: string, written: string): string | null {
  const base = written.startsWith("@/")
    ? written.slice(2)
    : relative(root, join(root, dirname(from), written))
        .split(sep)
        .join("/");
  const tried = [base, `${base}.ts`, `${base}.tsx`, `${base}.mjs`, `${base}/index.ts`];
  return tried.find((path) => /\.(ts|tsx|mjs|css|json)$/.test(path) && existsSync(join(root, path))) ?? null;
}

function read(path: string): SourceFile {
  const text = readFileSync(join(root, path), "utf8");
  const written = ts.preProcessFile(text, true, true).importedFiles.map((file) => file.fileName);
  const ours = written.filter((name) => name.startsWith(".") || name.startsWith("@/"));
  const imports = ours
    .filter((name) => !name.includes("/generated/"))
    .map((name) => {
      const found = resolve(path, name);
      if (!found) throw new Error(`${path} imports "${name}", which is not there.`);
      return found;
    });
  const generated = ours.filter((name) => name.includes("/generated/")).map(() => "@prisma/client");
  return { path, text, imports, packages: [...written.filter((name) => !ours.includes(name)), ...generated] };
}

/** Every source file of the named folders with what it imports. Fails when there is none: a scan of nothing proves nothing. */
export function readSources(folders: readonly string[]): SourceFile[] {
  const files = folders.flatMap(walk).map(read);
  if (files.length < 20) throw new Error(`Only ${files.length} files were found; the scan looks in the wrong place.`);
  return files;
}

/** Import rings, each as the files on it; none when imports point one way. */
export function findRings(files: readonly SourceFile[]): string[][] {
  const byPath = new Map(files.map((file) => [file.path, file]));
  const state = new Map<string, "open" | "done">();
  const rings: string[][] = [];
  const visit = (path: string, trail: readonly string[]): void => {
    if (state.get(path) === "done") return;
    if (state.get(path) === "open") return void rings.push([...trail.slice(trail.indexOf(path)), path]);
    state.set(path, "open");
    for (const next of byPath.get(path)?.imports ?? []) visit(next, [...trail, path]);
    state.set(path, "done");
  };
  for (const file of files) visit(file.path, []);
  return rings;
}
