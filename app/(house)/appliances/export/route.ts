import { z } from "zod";
import { csvDownload } from "@/app/_server/csv-download";
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
  return csvDownload({ name: "appliances", now, columns: labelColumns, pages, cells: exportRow });
});
