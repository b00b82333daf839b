import { zipSync } from "fflate";
import Papa from "papaparse";
import { rowsOf, type SitePack } from "./site-pack";
import type { PackCell, PackSection } from "./site-pack-section";

/** CSV (RFC 4180). A text that a spreadsheet would take for a formula gets an apostrophe before it (OWASP, CSV Injection). */
function csv(rows: readonly (readonly PackCell[])[]): string {
  return `${Papa.unparse(rows as unknown[][], { escapeFormulae: true, newline: "\r\n" })}\r\n`;
}

/** A section's table: the columns' names, then its rows. */
export function sectionCsv({ columns, rows }: PackSection): string {
  const kept = columns.flatMap(({ name }, at) => (name === null ? [] : [{ name, at }]));
  return csv([kept.map(({ name }) => name), ...rows.map((row) => kept.map(({ at }) => row[at] ?? null))]);
}

/** What the tables are of, and what each says. */
function aboutCsv(pack: SitePack): string {
  const facts = [
    ["site", pack.site],
    ["day", pack.day],
    ["time_zone", pack.timeZone],
    ["record_head", pack.head?.text ?? null],
    ["rows", String(rowsOf(pack))],
  ];
  const sections = pack.sections.map(({ key, rows, head, knownAsOf, note }) => [key, String(rows.length), head, knownAsOf, note]);
  return csv([["what", "value"], ...facts, [], ["table", "rows", "head", "known_as_of", "note"], ...sections]);
}

/** The tables of a pack in one ZIP archive, a CSV file each. The same pack gives the same bytes. */
export function sitePackTables(pack: SitePack): Uint8Array {
  const encode = (text: string) => new TextEncoder().encode(text);
  const files = pack.sections.map((section, i): [string, Uint8Array] => [
    `${String(i + 1).padStart(2, "0")}_${section.key}.csv`,
    encode(sectionCsv(section)),
  ]);
  return zipSync(Object.fromEntries<Uint8Array>([["00_about.csv", encode(aboutCsv(pack))], ...files]), { mtime: noDate(), level: 6 });
}

/** The archive's files have no date of their own: the earliest that the format can write, which it writes in the machine's time zone. */
function noDate(): Date {
  return new Date(1980, 0, 1);
}
