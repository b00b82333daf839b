import { type CsvRecord, csvRecords } from "./csv-records";
import { keyNotices, numberOf, type UnkeyedNotice } from "./notice-keys";
import { type NoticeList, type SetAsideRecord, setAside } from "./notice-list";
import { publishedDate } from "./published-date";

const columns = [
  "source",
  "number",
  "date",
  "title",
  "brand",
  "product",
  "models",
  "serials",
  "made_from",
  "made_to",
  "upc",
  "hazard",
  "remedy",
  "url",
  "description",
] as const;
type PlainColumn = (typeof columns)[number];

/** Whether a CSV header is that of the plain list: its number or title column beside at least two of its others. */
export function isPlainList(header: readonly string[]): boolean {
  const known = columns.filter((name) => header.includes(name));
  return known.length >= 3 && (header.includes("number") || header.includes("title"));
}

/** The plain list: one notice a row, what is known in columns of its own, the rest in `description`. Unknown columns are ignored. */
export function readPlainList(text: string): NoticeList {
  const notices: UnkeyedNotice[] = [];
  const aside: SetAsideRecord[] = [];
  for (const record of csvRecords(text).records) {
    const notice = record.problem === null ? toNotice(record) : null;
    if (notice) notices.push(notice);
    else
      aside.push(
        setAside(
          record.line,
          record.problem ?? `The record on line ${record.line} has neither a number nor a title, so it is no notice; fill one of them.`,
          record.raw.join(","),
        ),
      );
  }
  const source = notices.find((notice) => notice.source !== "")?.source ?? "plain list";
  return { ok: true, format: "plain-list", source, notices: keyNotices(notices), setAside: aside };
}

function toNotice(record: CsvRecord): UnkeyedNotice | null {
  const cell = (name: PlainColumn) => (record.cells[name] ?? "").trim();
  const number = numberOf(cell("number"), "", cell("title"));
  if (number === null) return null;
  return {
    number,
    recordId: null,
    source: cell("source"),
    format: "plain-list",
    date: publishedDate(cell("date")),
    lastPublished: null,
    title: cell("title"),
    description: cell("description"),
    productNames: separated(cell("product")),
    statedBrands: separated(cell("brand")),
    makers: [],
    importers: [],
    distributors: [],
    retailers: [],
    statedModels: cell("models") || null,
    statedSerials: cell("serials") || null,
    madeFrom: cell("made_from") || null,
    madeTo: cell("made_to") || null,
    upcs: separated(cell("upc")),
    hazard: cell("hazard") || null,
    remedy: cell("remedy") || null,
    units: null,
    incidents: null,
    contact: null,
    url: cell("url") || null,
  };
}

/** Several values in one cell stand between `;`, `|` or line ends; a comma may belong to a name. */
function separated(cell: string): string[] {
  return cell
    .split(/[;|\r\n]+/)
    .map((part) => part.trim())
    .filter((part) => part !== "");
}
