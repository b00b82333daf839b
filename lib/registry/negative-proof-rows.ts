import { labelGapWords, noticeGapWords, type ProofOutcome, proofOutcomeWords } from "@/lib/matching/negative-proof";
import type { NegativeProof } from "./negative-proof";
import type { ProofEvent } from "./proof-lists";

type Cell = string | number | null;

/** The columns of each table of a proof. */
export const proofColumns = {
  appliances: [
    ...["site", "tag", "state", "place", "brand", "model", "serial", "upc", "recorded", "compared_at", "came_to", "why_not_in_full"],
    ...["notices", "stored_comparison_agrees"],
  ],
  notices: ["source", "notice", "date", "title", "first_loaded", "compared_at", "why_not_in_full"],
  versions: ["at", "list", "what", "sha256", "notices"],
} as const;

export type ProofTable = keyof typeof proofColumns;
export const proofTableNames = Object.keys(proofColumns) as [ProofTable, ...ProofTable[]];

interface Given {
  readonly proof: NegativeProof;
  readonly events: readonly ProofEvent[];
  /** Only the appliances that came to this. */
  readonly outcome: ProofOutcome | undefined;
}

function applianceRows({ proof: { rows, site, at }, outcome: wanted }: Given): Cell[][] {
  return rows
    .filter(({ outcome }) => wanted === undefined || outcome === wanted)
    .map(({ appliance, where, outcome, gaps, pairs, agrees }) => {
      const { tag, state, brand, model, serial, upc, createdAt } = appliance;
      const notices = pairs.map(({ notice, grade, standing }) => `${notice.number} (${grade}, ${standing})`).join("; ");
      return [
        ...[site.name, tag, state, where, brand, model, serial, upc, createdAt.toISOString(), at.toISOString()],
        ...[proofOutcomeWords[outcome], gaps.map((gap) => labelGapWords[gap]).join(" ") || null, notices || null, agrees ? "yes" : "no"],
      ];
    });
}

/** The rows of one table of a proof. */
export function proofRows(table: ProofTable, given: Given): Cell[][] {
  if (table === "appliances") return applianceRows(given);
  if (table === "versions") return given.events.map(({ at, list, what, hash, notices }) => [at.toISOString(), list, what, hash, notices]);
  return given.proof.unproved.map(({ notice, gaps }) => [
    ...[
      notice.source,
      notice.number,
      notice.date,
      notice.title,
      notice.firstLoadedAt.toISOString(),
      notice.checkedAt?.toISOString() ?? null,
    ],
    gaps.map((gap) => noticeGapWords[gap]).join(" "),
  ]);
}
