import { mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { signInSecret } from "@/lib/access/secret";

let folder: string;
beforeEach(() => {
  vi.stubEnv("PLATEWARDEN_SECRET", "");
  folder = join(mkdtempSync(join(tmpdir(), "pw-secret-")), "data");
});
afterEach(() => {
  vi.unstubAllEnvs();
  rmSync(join(folder, ".."), { recursive: true, force: true });
});

it("makes the key once, readable by its owner only, and keeps it", () => {
  const made = signInSecret(folder);
  expect(made.length).toBeGreaterThanOrEqual(43);
  expect(signInSecret(folder)).toBe(made);
  expect(statSync(join(folder, "sign-in-secret")).mode & 0o777).toBe(0o600);
});

it("takes rights back that others were given, and refuses a damaged file", () => {
  signInSecret(folder);
  writeFileSync(join(folder, "sign-in-secret"), "cut", { mode: 0o644 });
  expect(() => signInSecret(folder)).toThrow(/is damaged: remove it/);
  expect(statSync(join(folder, "sign-in-secret")).mode & 0o777).toBe(0o600);
});
