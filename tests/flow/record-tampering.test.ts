import { execFileSync } from "node:child_process";
import { randomUUID } from "node:crypto";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { Store } from "@/lib/store/client";
import { appendRecord, entryHash } from "@/lib/store/record";
import { headText, parseHead, type RecordHead } from "@/lib/store/record-head";
import { verifyLines } from "@/lib/store/verify-lines";
import { recordLines, verifyRecord } from "@/lib/store/verify-record";
import { makeOrganisation } from "@/seed/builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const at = new Date("2026-01-02T03:04:05Z");
const entries = 8;

interface Tampered {
  readonly db: Store;
  readonly id: string;
}

async function fill(db: Store, organisationId: string): Promise<void> {
  const drafts = Array.from({ length: entries }, (_, i) => ({
    organisationId,
    at,
    actor: "test",
    what: "moved the Café kettle",
    subjectKind: "thing",
    subjectId: `t${i % 3}`,
    before: { b: 1, a: [0.1, { d: null, c: "ß" }], 'quoted "previousHash"': "x" },
    after: { a: [], z: i },
  }));
  await db.$transaction((tx) => appendRecord(tx, drafts));
}

const where = ({ id }: Tampered, number: number) => ({ organisationId_number: { organisationId: id, number } });
const change =
  (number: number, data: object) =>
  ({ db, ...rest }: Tampered) =>
    db.recordEntry.update({ where: where({ db, ...rest }, number), data });
const drop =
  (...numbers: number[]) =>
  ({ db, id }: Tampered) =>
    db.recordEntry.deleteMany({ where: { organisationId: id, number: { in: numbers } } });

/** Gives the entries other numbers; what their content and hashes say stays. */
async function renumber({ db, id }: Tampered, numbers: Readonly<Record<number, number>>): Promise<void> {
  for (const shift of [1000, 0])
    for (const [from, to] of Object.entries(numbers))
      await db.recordEntry.update({
        where: { organisationId_number: { organisationId: id, number: shift === 0 ? to + 1000 : Number(from) } },
        data: { number: to + shift },
      });
}

/** Writes hashes anew from an entry to the end, as somebody would who knows how they are made. */
async function rewriteFrom({ db, id }: Tampered, first: number, data: object): Promise<void> {
  let previousHash: string | undefined;
  for (let number = first; number <= entries; number++) {
    const key = { organisationId_number: { organisationId: id, number } };
    const changed = await db.recordEntry.update({
      where: key,
      data: { ...(number === first ? data : {}), ...(previousHash ? { previousHash } : {}) },
    });
    previousHash = entryHash(number, changed, changed.previousHash);
    await db.recordEntry.update({ where: key, data: { hash: previousHash } });
  }
}

const insertion = ({ id }: Tampered, number: number) => ({
  organisationId: id,
  number,
  at,
  actor: "somebody",
  what: "said that it was fine",
  subjectKind: "thing",
  subjectId: "t0",
  previousHash: "0".repeat(64),
  hash: "f".repeat(64),
});

/** What somebody with the database's password may do, and the entry at which it must show. */
const tamperings: readonly (readonly [string, number, (tampered: Tampered) => Promise<unknown>])[] = [
  ["another word", 4, change(4, { what: "moved the Cafe kettle" })],
  ["the same letter written as two", 4, change(4, { what: "moved the Cafe\u0301 kettle" })],
  ["a space at the end", 4, change(4, { what: "moved the Café kettle " })],
  ["another person", 4, change(4, { actor: "someone else" })],
  ["another time", 4, change(4, { at: new Date("2026-01-02T03:04:05.001Z") })],
  ["another subject", 4, change(4, { subjectId: "t9" })],
  ["another kind of subject", 4, change(4, { subjectKind: "Thing" })],
  ["another value after", 4, change(4, { after: { a: [], z: 99 } })],
  ["a number that became text", 4, change(4, { after: { a: [], z: "3" } })],
  ["a value taken out", 4, change(4, { after: { a: [] } })],
  ["another value before", 4, change(4, { before: { b: 1 } })],
  ["the first entry changed", 1, change(1, { what: "moved nothing" })],
  ["the last entry changed", 8, change(8, { what: "moved nothing" })],
  ["only the hash", 4, change(4, { hash: "f".repeat(64) })],
  ["only the link", 4, change(4, { previousHash: "f".repeat(64) })],
  ["a changed entry with its own hash made anew", 5, (t) => rewriteOne(t, 4)],
  ["an entry taken out", 4, drop(4)],
  ["an entry taken out and the gap closed", 4, (t) => drop(4)(t).then(() => renumber(t, { 5: 4, 6: 5, 7: 6, 8: 7 }))],
  ["the first entry taken out", 1, drop(1)],
  ["two entries in each other's place", 4, (t) => renumber(t, { 4: 5, 5: 4 })],
  [
    "an entry put in between",
    4,
    (t) => renumber(t, { 8: 9, 7: 8, 6: 7, 5: 6, 4: 5 }).then(() => t.db.recordEntry.create({ data: insertion(t, 4) })),
  ],
  ["an entry put at the end without a right hash", 9, (t) => t.db.recordEntry.create({ data: insertion(t, 9) })],
  [
    "an entry given to another organisation",
    4,
    ({ db, id }) => db.recordEntry.update({ where: where({ db, id }, 4), data: { organisationId: randomUUID() } }),
  ],
];

/** What the hashes alone cannot show, but a head written down before does. */
const endings: readonly (readonly [string, number, (tampered: Tampered) => Promise<unknown>])[] = [
  ["the last entry cut off", 8, drop(8)],
  ["the last three cut off", 6, drop(6, 7, 8)],
  ["everything taken away", 1, drop(1, 2, 3, 4, 5, 6, 7, 8)],
  ["an entry changed and all hashes after it made anew", 8, (t) => rewriteFrom(t, 3, { what: "moved nothing" })],
  ["the last entry replaced by another with a right hash", 8, (t) => rewriteFrom(t, 8, { actor: "someone else" })],
];

async function rewriteOne(t: Tampered, number: number): Promise<void> {
  const changed = await change(number, { what: "moved nothing" })(t);
  await change(number, { hash: entryHash(number, changed, changed.previousHash) })(t);
}

async function linesOf(db: Store, id: string): Promise<string[]> {
  const lines: string[] = [];
  for await (const line of recordLines(db, id)) lines.push(line);
  return lines;
}

async function* trimmed(lines: readonly string[]): AsyncGenerator<string> {
  for (const line of lines) yield line.replace(/\n$/, "");
}

/** The way README states for verifying an export with nothing but a SHA-256 program; prints the head, or where it breaks. */
const byShell = `n=0; hash=$(printf '0%.0s' $(seq 64))
while IFS= read -r line; do
  case "$line" in *'"previousHash":"'"$hash"'"'*) ;; *) echo "broken after $n"; exit;; esac
  n=$((n + 1)); hash=$(printf '%s' "$line" | sha256sum | cut -c1-64)
done; echo "$n:$hash"`;

eachDatabase("a record tampered with", (open) => {
  // Each test has an organisation, and so a record, of its own.
  let database: FreshDatabase;
  beforeAll(async () => {
    database = await open();
  });
  afterAll(() => database.close());
  const inRecord = async (test: (tampered: Tampered, head: RecordHead) => Promise<void>) => {
    const { db } = database;
    const { id } = await makeOrganisation(db);
    await fill(db, id);
    const { entries: number, lastHash: hash, broken } = await verifyRecord(db, id);
    expect({ number, broken }).toEqual({ number: entries, broken: null });
    await test({ db, id }, { number, hash });
  };

  it.each(tamperings)("shows %s at entry %i", (_, number, tamper) =>
    inRecord(async (t, head) => {
      await tamper(t);
      expect((await verifyRecord(t.db, t.id)).broken?.number).toBe(number);
      expect((await verifyRecord(t.db, t.id, head)).broken?.number).toBe(number);
    }),
  );

  it.each(endings)("shows %s against a head written down before, at entry %i", (_, number, tamper) =>
    inRecord(async (t, head) => {
      await tamper(t);
      expect((await verifyRecord(t.db, t.id)).broken).toBeNull();
      expect((await verifyRecord(t.db, t.id, head)).broken?.number).toBe(number);
    }),
  );

  it("still holds an earlier head after more was recorded", () =>
    inRecord(async ({ db, id }, head) => {
      await fill(db, id);
      expect(await verifyRecord(db, id, head)).toMatchObject({ entries: 2 * entries, broken: null });
    }));

  it("is exported so that this program, and a shell with nothing but a SHA-256 program, verify it", () =>
    inRecord(async ({ db, id }, head) => {
      const lines = await linesOf(db, id);
      const shell = (input: readonly string[]) => execFileSync("sh", ["-c", byShell], { input: input.join(""), encoding: "utf8" }).trim();
      expect(shell(lines)).toBe(headText(head));
      expect(parseHead(shell(lines))).toEqual(head);
      expect(await verifyLines(trimmed(lines), head)).toEqual({ entries, lastHash: head.hash, broken: null });
      const damaged: [number, string[]][] = [
        [5, lines.map((line, i) => (i === 3 ? line.replace("kettle", "kettles") : line))],
        [4, lines.filter((_, i) => i !== 3)],
        [4, [...lines.slice(0, 3), lines[4] ?? "", lines[3] ?? "", ...lines.slice(5)]],
        [3, [...lines.slice(0, 2), "not an entry\n", ...lines.slice(2)]],
      ];
      for (const [number, given] of damaged) {
        expect((await verifyLines(trimmed(given), head)).broken?.number).toBe(number);
        expect(shell(given)).toBe(`broken after ${number - 1}`);
      }
      expect((await verifyLines(trimmed(lines.slice(0, 5)), head)).broken).toMatchObject({
        number: 6,
        why: expect.stringMatching(/cut off/) as string,
      });
      expect(shell(lines.slice(0, 5))).not.toBe(headText(head));
    }));
});

it("a head is read only when it is whole", () => {
  const head = { number: 12, hash: "ab".repeat(32) };
  expect(parseHead(` ${headText(head).toUpperCase()} `)).toEqual(head);
  for (const text of ["", "12", "12:abc", `12:${"g".repeat(64)}`, `-1:${head.hash}`, head.hash]) expect(parseHead(text)).toBeNull();
});

it("a file that is no record is told from one", async () => {
  expect(await verifyLines(trimmed(["tag,site\n"]))).toMatchObject({ broken: { number: 1, why: "it is not an entry of a record" } });
});
