import { csvRecords } from "./csv-records";
import { htmlText } from "./html-text";
import { jsonText } from "./json-text";
import { keyNotices, numberOf, type UnkeyedNotice } from "./notice-keys";
import { type NoticeList, type SetAsideRecord, setAside } from "./notice-list";
import { OtherKinds } from "./other-kinds";
import { publishedDate } from "./published-date";

/** The publisher of the open data and of the older recall service. */
export const canadaSource = "Government of Canada, Recalls and Safety Alerts";

/** One record of the open data, its field names in lower case. */
interface OpenRecord {
  readonly line: number;
  readonly fields: Readonly<Record<string, string>>;
  readonly raw: string;
  readonly problem: string | null;
}

/** Whether parsed JSON is the Canadian open data: some record has a NID beside a title. */
export function isCanadaOpenData(records: readonly unknown[]): boolean {
  return records.some((entry) => {
    const names = namesOf(entry);
    return names.includes("nid") && names.includes("title");
  });
}

/** Whether a CSV header is that of the Canadian open data. */
export function isCanadaOpenTable(header: readonly string[]): boolean {
  return header.includes("nid") && header.includes("title");
}

/**
 * The Government of Canada's open data of recalls and safety alerts, the JSON form.
 *
 * Fields: NID, Title, URL, Organization, Product, Issue, "What you should do", Category, "Recall class", "Last updated",
 * Archived. The names are confirmed by public material that quotes the published file's header line, not by the publisher's own
 * description. From memory: that `Last updated` is a day `YYYY-MM-DD`; that texts may hold mark-up; which organisations publish
 * food (the Canadian Food Inspection Agency) and vehicles (Transport Canada), and the categories of medicines.
 *
 * The file has one date, of the last change, so the day of publication stays unknown. Recalls of food, vehicles and medicines are
 * set aside by kind; everything else is kept, medical devices and archived recalls too.
 */
export function readCanadaOpenData(records: readonly unknown[]): NoticeList {
  return toList(records.map((entry, at) => ({ line: at + 1, fields: fieldsOf(entry), raw: jsonText(entry), problem: null })));
}

/** The same open data in its CSV form. */
export function readCanadaOpenTable(text: string): NoticeList {
  return toList(csvRecords(text).records.map(({ line, cells, raw, problem }) => ({ line, fields: cells, raw: raw.join(","), problem })));
}

function toList(records: readonly OpenRecord[]): NoticeList {
  const notices: UnkeyedNotice[] = [];
  const aside: SetAsideRecord[] = [];
  const others = new OtherKinds();
  for (const record of records) {
    const { line, fields, raw, problem } = record;
    const notice = problem === null ? toNotice(fields) : null;
    const kind = notice && otherKind(fields);
    if (notice && kind) others.take(kind, { line, number: notice.number });
    else if (notice) notices.push(notice);
    else aside.push(setAside(line, problem ?? `Record ${line} has neither a NID nor a title, so it is no notice.`, raw));
  }
  const rows = [...aside, ...others.rows()];
  return { ok: true, format: "canada-open-data", source: canadaSource, notices: keyNotices(notices), setAside: rows };
}

/** What the record itself calls something that is not plugged in; null for all others, and wherever it is not sure. */
function otherKind(fields: OpenRecord["fields"]): string | null {
  const organisation = fields["organization"] ?? "";
  const category = (fields["category"] ?? "").trim().toLowerCase();
  if (/\bCFIA\b|Food Inspection/i.test(organisation) || category === "food") return "Food";
  if (/^\s*TC\s*$|Transport Canada/i.test(organisation) || category === "vehicles") return "Vehicles";
  return medicines.has(category) ? "Medicines and cannabis" : null;
}
const medicines = new Set(["drugs", "natural health products", "biologic or vaccine", "veterinary drugs", "cannabis"]);

/** Product texts up to this length are a name; longer ones describe. */
const longestProductName = 200;

function toNotice(fields: OpenRecord["fields"]): UnkeyedNotice | null {
  const text = (name: string) => htmlText(fields[name] ?? "");
  const title = text("title").replace(/\s+/g, " ");
  const number = numberOf("", text("nid"), title);
  if (number === null) return null;
  const product = text("product");
  return {
    number,
    recordId: text("nid") || null,
    source: canadaSource,
    format: "canada-open-data",
    date: null,
    lastPublished: publishedDate(text("last updated")),
    title,
    description: product,
    productNames: product !== "" && product.length <= longestProductName && !product.includes("\n") ? [product] : [],
    statedBrands: [],
    makers: [],
    importers: [],
    distributors: [],
    retailers: [],
    statedModels: null,
    statedSerials: null,
    madeFrom: null,
    madeTo: null,
    upcs: [],
    hazard: text("issue") || null,
    remedy: text("what you should do") || null,
    units: null,
    incidents: null,
    contact: null,
    url: text("url") || null,
  };
}

function namesOf(entry: unknown): string[] {
  return typeof entry === "object" && entry !== null && !Array.isArray(entry) ? Object.keys(entry).map(fieldName) : [];
}

function fieldName(name: string): string {
  return name
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, " ");
}

function fieldsOf(entry: unknown): Record<string, string> {
  if (typeof entry !== "object" || entry === null || Array.isArray(entry)) return {};
  return Object.fromEntries(Object.entries(entry).map(([name, value]) => [fieldName(name), asText(value)]));
}

/** A value as text; of a list its entries, one a line. */
function asText(value: unknown): string {
  if (Array.isArray(value)) return value.filter((part) => typeof part !== "object").join("\n");
  return typeof value === "string" || typeof value === "number" || typeof value === "boolean" ? String(value) : "";
}
