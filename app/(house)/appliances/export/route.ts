import Papa from "papaparse";
import { z } from "zod";
import { route } from "@/app/_server/route";
import { exportRow } from "@/lib/registry/appliance-export";
import { applianceQuery, exportAppliances } from "@/lib/registry/appliance-list";
import { labelColumns } from "@/lib/registry/label-columns";

/** The labels file of what the list shows, or of the chosen rows, streamed. */
export const GET = route({ permission: "see appliances", query: z.unknown() }, async ({ db, actor, now, request }) => {
  const given = new URL(request.url).searchParams;
  const query = applianceQuery.parse(Object.fromEntries(given));
  const ids = given.getAll("chosen");
  const pages = exportAppliances(db, actor, { query, chosen: ids.length > 0 ? ids : null, now });
  const encode = (text: string) => new TextEncoder().encode(text);
  const body = new ReadableStream<Uint8Array>({
    start: (stream) => stream.enqueue(encode(`${Papa.unparse([[...labelColumns]])}\r\n`)),
    async pull(stream) {
      const page = await pages.next();
      if (page.done) return stream.close();
      if (page.value.length > 0) stream.enqueue(encode(`${Papa.unparse(page.value.map(exportRow))}\r\n`));
      else stream.enqueue(new Uint8Array());
    },
    cancel: () => void pages.return(undefined),
  });
  const day = now.toISOString().slice(0, 10);
  const headers = {
    "content-type": "text/csv; charset=utf-8",
    "content-disposition": `attachment; filename="appliances-${day}.csv"`,
    "cache-control": "no-store",
  };
  return new Response(body, { headers });
});
