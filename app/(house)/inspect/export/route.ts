import { z } from "zod";
import { csvDownload } from "@/app/_server/csv-download";
import { route } from "@/app/_server/route";
import { exportInspections, inspectionColumns } from "@/lib/registry/inspection-export";

const query = z.object({ site: z.string().max(100).optional() });

/** Every inspection of a site, or of all that the person may see, as CSV, streamed. */
export const GET = route({ permission: "see inspections", query }, async ({ db, actor, now, query: { site } }) => {
  const pages = exportInspections(db, actor, site || undefined);
  return csvDownload({ name: "inspections", now, columns: inspectionColumns, pages, cells: (row) => row });
});
