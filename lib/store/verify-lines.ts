import { createHash } from "node:crypto";
import { z } from "zod";
import { firstLink } from "./record";
import { headProblem, type RecordHead } from "./record-head";
import type { RecordVerdict } from "./verify-record";

const lineSchema = z.object({ number: z.number().int(), previousHash: z.string() });

function linkOf(line: string): z.infer<typeof lineSchema> | null {
  try {
    return lineSchema.safeParse(JSON.parse(line)).data ?? null;
  } catch {
    return null;
  }
}

function problemOf(line: string, number: number, lastHash: string): string | null {
  const link = linkOf(line);
  if (link === null) return "it is not an entry of a record";
  if (link.number !== number) return `entry ${link.number} stands in its place`;
  return link.previousHash === lastHash ? null : "the line before it was changed, or does not belong before it";
}

/**
 * Verifies an exported record without any database: every line's hash must be the next line's `previousHash`. Only a head written
 * down elsewhere vouches for the last line.
 */
export async function verifyLines(lines: AsyncIterable<string>, head?: RecordHead | null): Promise<RecordVerdict> {
  let number = 0;
  let lastHash = firstLink;
  let hashAtHead = firstLink;
  for await (const line of lines) {
    const why = problemOf(line, number + 1, lastHash);
    if (why !== null) return { entries: number, lastHash, broken: { number: number + 1, why } };
    number += 1;
    lastHash = createHash("sha256").update(line).digest("hex");
    if (number === head?.number) hashAtHead = lastHash;
  }
  return { entries: number, lastHash, broken: head ? headProblem(head, number, hashAtHead) : null };
}
