import { type RemedyCounts, settledShare } from "@/lib/casework/remedy-account";
import type { Remedies } from "./remedies";

type Cell = string | number | null;

const countColumns = [
  ...(["have", "undecided", "unsure", "found", "waiting", "registered", "sent", "received", "settled", "accepted", "notAffected"] as const),
] satisfies readonly (keyof RemedyCounts)[];

const countHeads = countColumns.map((name) => (name === "notAffected" ? "not_affected" : name));

/** The columns of each table. */
export const remedyColumns = {
  notices: ["source", "notice", "date", "title", ...countHeads, "remedy", "contact", "url"],
  sites: ["site", "at", ...countHeads, "settled_of_have"],
} as const;

export type RemedyTableName = keyof typeof remedyColumns;
export const remedyTableNames = Object.keys(remedyColumns) as [RemedyTableName, ...RemedyTableName[]];

/** The rows of one table. */
export function remedyRows(table: RemedyTableName, { lines, effects }: Pick<Remedies, "lines" | "effects">): Cell[][] {
  const figures = (counts: RemedyCounts) => countColumns.map((name) => counts[name]);
  if (table === "notices")
    return lines.map(({ notice, counts }) => [
      ...[notice.source, notice.number, notice.date, notice.title, ...figures(counts), notice.remedy, notice.contact, notice.url],
    ]);
  return effects.flatMap(({ site, points }) =>
    points.map(({ at, counts }) => {
      const share = settledShare(counts);
      return [site.name, at.toISOString(), ...figures(counts), share === null ? null : Math.round(share * 1000) / 1000];
    }),
  );
}
