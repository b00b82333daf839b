import { z } from "zod";
import { route } from "@/app/_server/route";
import { csvLine } from "@/lib/registry/csv-line";
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
  const encode = (text: string) => new TextEncoder().encode(text);
  const body = new ReadableStream<Uint8Array>({
    start: (stream) => stream.enqueue(encode(`${csvLine(columns)}\r\n`)),
    async pull(stream) {
      const page = await pages.next();
      if (page.done) return stream.close();
      stream.enqueue(encode(page.value.map((row) => `${csvLine(cells(row))}\r\n`).join("")));
    },
    cancel: () => void pages.return(undefined),
  });
  const headers = {
    "content-type": "text/csv; charset=utf-8",
    "content-disposition": `attachment; filename="findings-${now.toISOString().slice(0, 10)}.csv"`,
    "cache-control": "no-store",
  };
  return new Response(body, { headers });
});
