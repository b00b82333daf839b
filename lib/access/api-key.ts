import { createHash, randomBytes, timingSafeEqual } from "node:crypto";

/** A key as its device sends it: `pwk_`, the key's id without dashes, and 32 random bytes. */
export interface KeyToken {
  readonly id: string;
  readonly secret: string;
}

const prefix = "pwk";

/** A new secret: 32 random bytes, base64url. */
export function newKeySecret(): string {
  return randomBytes(32).toString("base64url");
}

/** What is stored of a secret: its SHA-256, hexadecimal. The secret is random and long, so that no slow hash is needed. */
export function keyHash(secret: string): string {
  return createHash("sha256").update(secret).digest("hex");
}

/** Compares in a time that does not depend on where the first difference lies. */
export function isKeySecret(secret: string, hash: string): boolean {
  const given = Buffer.from(keyHash(secret), "hex");
  const stored = Buffer.from(hash, "hex");
  return given.length === stored.length && timingSafeEqual(given, stored);
}

export function keyToken({ id, secret }: KeyToken): string {
  return `${prefix}_${id.replaceAll("-", "")}_${secret}`;
}

/** Reads a token; null when the text cannot be one. */
export function readKeyToken(text: string): KeyToken | null {
  const found = /^pwk_([0-9a-f]{8})([0-9a-f]{4})([0-9a-f]{4})([0-9a-f]{4})([0-9a-f]{12})_([\w-]{43})$/.exec(text.trim());
  if (found === null) return null;
  return { id: found.slice(1, 6).join("-"), secret: found[6] ?? "" };
}

/** The token of an `Authorization: Bearer` header; null when there is none. */
export function bearerToken(header: string | null): string | null {
  return /^Bearer +(\S+)\s*$/i.exec(header ?? "")?.[1] ?? null;
}
