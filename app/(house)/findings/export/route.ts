import { z } from "zod";
import { csvDownload } from "@/app/_server/csv-download";
import { route } from "@/app/_server/route";
import { exportFindings, findingQuery } from "@/lib/registry/finding-list";
import { causeOf, type ShownFinding } from "@/lib/registry/shown-finding";

const columns = [
  "signal_word",
  "cause",
  "sentence",
  "state",
  "site",
  "unit",
  "spot",
  "tag",
  "brand",
  "model",
  "serial",
  "opened",
  "due",
  "times_seen",
  "owner",
  "closed",
  "outcome",
  "reason",
  "evidence",
] as const;

function cells(row: ShownFinding): (string | number | null)[] {
  const { finding, appliance, place } = row;
  const day = (at: Date | null) => at?.toISOString() ?? null;
  return [
    finding.signalWord,
    causeOf(row),
    finding.sentence,
    finding.state,
    place.site,
    place.unit,
    place.spot,
    appliance?.tag ?? null,
    appliance?.brand ?? null,
    appliance?.model ?? null,
    appliance?.serial ?? null,
    day(finding.openedAt),
    day(finding.dueAt),
    finding.timesSeen,
    row.owner,
    day(finding.closedAt),
    finding.outcome,
    finding.outcomeReason,
    finding.outcomeEvidence,
  ];
}

/** The findings that the list shows, streamed. */
export const GET = route({ permission: "see findings", query: z.unknown() }, async ({ db, actor, now, request }) => {
  const query = findingQuery.parse(Object.fromEntries(new URL(request.url).searchParams));
  const pages = exportFindings(db, actor, { query, now });
  return csvDownload({ name: "findings", now, columns, pages, cells });
});
