import { randomBytes } from "node:crypto";
import { chmodSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

/** Where the product keeps files of its own besides the database. */
export function dataFolder(): string {
  return process.env["PLATEWARDEN_DATA"] || join(process.cwd(), ".data");
}

const leastLength = 32;

/**
 * The key that signs session cookies: PLATEWARDEN_SECRET, or one made once and kept in the data folder, readable by the owner
 * only. Several web processes on several hosts must share one by the variable. Throws when the variable's is too short.
 */
export function signInSecret(folder: string = dataFolder()): string {
  const given = process.env["PLATEWARDEN_SECRET"];
  if (given) {
    if (given.length >= leastLength) return given;
    throw new Error(`PLATEWARDEN_SECRET must have at least ${leastLength} characters; it has ${given.length}.`);
  }
  const file = join(folder, "sign-in-secret");
  if (!existsSync(file)) makeSecret(folder, file);
  chmodSync(file, 0o600);
  const kept = readFileSync(file, "utf8").trim();
  if (kept.length < leastLength) throw new Error(`${file} is damaged: remove it and start again; everyone will have to sign in again.`);
  return kept;
}

/** Two processes may start at once: the one that comes second keeps the first one's. */
function makeSecret(folder: string, file: string): void {
  mkdirSync(folder, { recursive: true });
  try {
    writeFileSync(file, `${randomBytes(32).toString("base64url")}\n`, { flag: "wx", mode: 0o600 });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
  }
}
