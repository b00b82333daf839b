import { csvLine } from "@/lib/registry/csv-line";
import type { SitePack } from "./site-pack";

/**
 * The pack as one CSV file: a section after the other, each line led by the section's name; each section starts with its column names.
 * The same data gives the same bytes.
 */
export function sitePackCsv(pack: SitePack): string {
  const about = [
    ["pack", "site", "day", "time_zone", "record_head"],
    ["pack", pack.site, pack.day, pack.timeZone, pack.head],
  ];
  const sections = pack.sections.flatMap(({ key, columns, rows }) => [
    [key, ...columns.map(({ name }) => name)],
    ...rows.map((row) => [key, ...row]),
  ]);
  return [...about, ...sections].map((line) => `${csvLine(line)}\r\n`).join("");
}
