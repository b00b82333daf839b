import { z } from "zod";
import { route } from "@/app/_server/route";
import { csvLine } from "@/lib/registry/csv-line";
import { type EnergyExportRow, exportEnergy } from "@/lib/registry/energy-export";
import { energyQuery } from "@/lib/registry/energy-view";

const columns = [
  "at",
  "site",
  "unit",
  "circuit",
  "outlet",
  "receptacle",
  "tag",
  "kwh",
  "measured_s",
  "gap_s",
  "price",
  "currency",
  "cost",
] as const;

const cells = (row: EnergyExportRow) => columns.map((name) => row[name]);

/** The booked hours that the page shows, streamed, one row a receptacle, appliance and hour. */
export const GET = route({ permission: "see readings", query: z.unknown() }, async ({ db, actor, now, request }) => {
  const query = energyQuery.parse(Object.fromEntries(new URL(request.url).searchParams));
  const days = await exportEnergy(db, actor, query);
  const encode = (text: string) => new TextEncoder().encode(text);
  const body = new ReadableStream<Uint8Array>({
    start: (stream) => stream.enqueue(encode(`${csvLine(columns)}\r\n`)),
    async pull(stream) {
      const day = await days.next();
      if (day.done) return stream.close();
      stream.enqueue(encode(day.value.map((row) => `${csvLine(cells(row))}\r\n`).join("")));
    },
    cancel: () => void days.return(undefined),
  });
  const headers = {
    "content-type": "text/csv; charset=utf-8",
    "content-disposition": `attachment; filename="energy-${now.toISOString().slice(0, 10)}.csv"`,
    "cache-control": "no-store",
  };
  return new Response(body, { headers });
});
