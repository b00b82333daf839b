import { isAbsolute, join } from "node:path";

/** Which database a URL names: the embedded one by a file, or a PostgreSQL server. */
export type DatabaseTarget =
  | { readonly dialect: "sqlite"; readonly file: string }
  | { readonly dialect: "postgresql"; readonly connectionString: string };

/** The one variable that chooses the database; without it the embedded one in `.data`. */
export function databaseUrl(): string {
  return process.env["DATABASE_URL"] || "file:.data/platewarden.db";
}

/**
 * Reads a database URL: `file:PATH` or `postgresql://...`.
 * Throws with one sentence for anything else.
 */
export function parseDatabaseUrl(url: string): DatabaseTarget {
  if (/^postgres(ql)?:\/\//.test(url)) return { dialect: "postgresql", connectionString: url };
  if (!url.startsWith("file:")) {
    throw new Error(`DATABASE_URL must begin with "file:" or "postgresql://"; it begins with "${url.slice(0, 12)}".`);
  }
  const path = url.slice("file:".length).replace(/\?.*$/, "");
  return { dialect: "sqlite", file: isAbsolute(path) ? path : join(/* turbopackIgnore: true */ process.cwd(), path) };
}
