import { type CsvRecord, csvRecords } from "./csv-records";
import { keyNotices, numberOf, type UnkeyedNotice } from "./notice-keys";
import { type NoticeList, type SetAsideRecord, setAside } from "./notice-list";
import { publishedDate } from "./published-date";
import { usSource } from "./read-us-web-service";
import { unescapeHtml } from "./unescape-html";

/** Whether a CSV header is that of the US recall web site's own export. */
export function isUsWebsiteExport(header: readonly string[]): boolean {
  return header.includes("recall heading") && (header.includes("recall number") || header.includes("name of product"));
}

/**
 * The US recall web site's CSV export (texts with HTML character references, tables flattened into the description).
 * Recalls and product safety warnings stand in one list, each with a number column of its own.
 */
export function readUsWebsiteExport(text: string): NoticeList {
  const notices: UnkeyedNotice[] = [];
  const aside: SetAsideRecord[] = [];
  for (const record of csvRecords(text).records) {
    const notice = record.problem === null ? toNotice(record) : null;
    if (notice) notices.push(notice);
    else
      aside.push(
        setAside(
          record.line,
          record.problem ?? `The record on line ${record.line} has neither a number nor a heading, so it is no notice.`,
          record.raw.join(","),
        ),
      );
  }
  return { ok: true, format: "us-website-export", source: usSource, notices: keyNotices(notices), setAside: aside };
}

function toNotice(record: CsvRecord): UnkeyedNotice | null {
  const cell = (name: string) => unescapeHtml(record.cells[name] ?? "").trim();
  const list = (name: string) => [cell(name)].filter((value) => value !== "");
  const title = cell("recall heading");
  const number = numberOf(cell("recall number") || cell("product safety warning number"), "", title);
  if (number === null) return null;
  return {
    number,
    recordId: null,
    source: usSource,
    format: "us-website-export",
    date: publishedDate(cell("date") || cell("product safety warning date")),
    lastPublished: null,
    title,
    description: cell("description"),
    productNames: list("name of product"),
    statedBrands: [],
    makers: list("manufacturers"),
    importers: list("importers"),
    distributors: list("distributors"),
    retailers: list("sold at"),
    statedModels: null,
    statedSerials: null,
    madeFrom: null,
    madeTo: null,
    upcs: [],
    hazard: cell("hazard description") || null,
    remedy: cell("remedy") || cell("consumer action") || null,
    units: cell("units") || null,
    incidents: cell("incidents") || null,
    contact: null,
    url: null,
  };
}
