import { z } from "zod";
import { csvDownload } from "@/app/_server/csv-download";
import { route } from "@/app/_server/route";
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
  return csvDownload({ name: "energy", now, columns, pages: days, cells });
});
