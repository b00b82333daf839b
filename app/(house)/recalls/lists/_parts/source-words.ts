import { dayWords } from "@/app/(house)/recalls/_parts/grade-words";
import type { ShownCheck, ShownSource } from "@/lib/registry/notice-source-view";

/** A point in time, in UTC, as the lists are dated. */
export function timeWords(at: Date): string {
  return `${dayWords(at)}, ${at.toISOString().slice(11, 16)} UTC`;
}

/** How often a list is looked at. */
export function intervalWords(hours: number): string {
  if (hours === 1) return "every hour";
  if (hours === 24) return "every day";
  if (hours === 168) return "every week";
  return hours % 24 === 0 ? `every ${hours / 24} days` : `every ${hours} hours`;
}

/** How a source stands, in a few words. */
export function stateWords(source: Pick<ShownSource, "state" | "checkedAt" | "isBeingChecked">): string {
  if (source.isBeingChecked) return "being looked at";
  const since = source.checkedAt === null ? "never checked" : `not checked since ${timeWords(source.checkedAt)}`;
  return { new: "not yet looked at", current: "up to date", held: "waits for a decision", troubled: since, late: since, paused: "paused" }[
    source.state
  ];
}

/** What marks a version: the publisher's own mark, its date, and the beginning of the file's hash. */
export function versionWords(version: Pick<ShownCheck, "etag" | "lastModified" | "fileHash">): string {
  const { etag, lastModified, fileHash } = version;
  const parts = [
    etag && `mark ${etag.replace(/^(?:W\/)?"|"$/g, "").slice(0, 24)}`,
    lastModified && `dated ${lastModified}`,
    fileHash && `SHA-256 ${fileHash.slice(0, 12)}…`,
  ];
  return parts.filter(Boolean).join(", ");
}

export const outcomeWords: Readonly<Record<ShownCheck["outcome"], string>> = {
  loaded: "taken in",
  unchanged: "unchanged",
  held: "held",
  refused: "refused",
  failed: "not reached",
};

/** What became of a check, with what a person decided on a held list. */
export function checkWords({ outcome, decidedAt, takenIn }: Pick<ShownCheck, "outcome" | "decidedAt" | "takenIn">): string {
  if (outcome !== "held" || decidedAt === null) return outcomeWords[outcome];
  return takenIn ? "held, then taken in" : "held, left aside";
}
