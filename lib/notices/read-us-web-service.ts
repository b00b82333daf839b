import { z } from "zod";
import { jsonText } from "./json-text";
import { keyNotices, numberOf, type UnkeyedNotice } from "./notice-keys";
import { type NoticeList, refused, type SetAsideRecord, setAside } from "./notice-list";
import { publishedDate } from "./published-date";
import { unescapeHtml } from "./unescape-html";

/**
 * The US consumer-product recall web service: a JSON array of records with RecallNumber, Title, Description and lists of
 * {Name}. Field names as its published JSON prints them. Numbers and nulls where text belongs are taken as text.
 */
const text = z
  .union([z.string(), z.number(), z.boolean()])
  .nullish()
  .transform((value) => (value === null || value === undefined ? "" : unescapeHtml(String(value)).trim()))
  .catch("");
const names = (key: "Name" | "UPC") =>
  z
    .array(z.union([z.object({ [key]: text }).transform((entry) => entry[key] ?? ""), text]))
    .nullish()
    .transform((list) => (list ?? []).filter((entry) => entry !== ""))
    .catch([]);
const product = z.object({ Name: text, Model: text, NumberOfUnits: text }).catch({ Name: "", Model: "", NumberOfUnits: "" });
const record = z.object({
  RecallID: text,
  RecallNumber: text,
  RecallDate: text,
  LastPublishDate: text,
  Title: text,
  Description: text,
  URL: text,
  ConsumerContact: text,
  Products: z.array(product).nullish().catch([]),
  Injuries: names("Name"),
  Manufacturers: names("Name"),
  Importers: names("Name"),
  Distributors: names("Name"),
  Retailers: names("Name"),
  ProductUPCs: names("UPC"),
  Hazards: names("Name"),
  Remedies: names("Name"),
});
type ServiceRecord = z.infer<typeof record>;

/** Whether parsed JSON is a list of this service: some record has a title beside a recall number or id. */
export function isUsWebService(records: readonly unknown[]): boolean {
  return records.some((entry) => isObject(entry) && "Title" in entry && ("RecallID" in entry || "RecallNumber" in entry));
}

/** Records of the web service -> notices; an error document is refused, a record that is none is set aside with its place. */
export function readUsWebService(records: readonly unknown[]): NoticeList {
  const notices: UnkeyedNotice[] = [];
  const aside: SetAsideRecord[] = [];
  records.forEach((entry, at) => {
    const parsed = record.safeParse(entry);
    const notice = parsed.success ? toNotice(parsed.data) : null;
    if (parsed.success && isErrorRecord(parsed.data))
      aside.push(setAside(at + 1, `Record ${at + 1} is an error message of the recall service, not a notice.`, jsonText(entry)));
    else if (notice) notices.push(notice);
    else aside.push(setAside(at + 1, `Record ${at + 1} has no recall number, record id or title, so it is no notice.`, jsonText(entry)));
  });
  const problem = notices.length === 0 ? firstError(records) : null;
  if (problem !== null) return refused(`This is an error message of the recall service, not a list ("${problem}"); fetch the list again.`);
  return { ok: true, format: "us-web-service", source: usSource, notices: keyNotices(notices), setAside: aside };
}

/** The publisher of both US formats. */
export const usSource = "US CPSC";

function toNotice(entry: ServiceRecord): UnkeyedNotice | null {
  const number = numberOf(entry.RecallNumber, entry.RecallID, entry.Title);
  if (number === null) return null;
  const products = entry.Products ?? [];
  const joined = (parts: readonly string[]) => parts.filter((part) => part !== "").join("; ") || null;
  return {
    number,
    recordId: entry.RecallID || null,
    source: usSource,
    format: "us-web-service",
    date: publishedDate(entry.RecallDate),
    lastPublished: publishedDate(entry.LastPublishDate),
    title: entry.Title,
    description: entry.Description,
    productNames: products.map((one) => one.Name).filter((name) => name !== ""),
    statedBrands: [],
    makers: entry.Manufacturers,
    importers: entry.Importers,
    distributors: entry.Distributors,
    retailers: entry.Retailers,
    statedModels: joined(products.map((one) => one.Model)),
    statedSerials: null,
    madeFrom: null,
    madeTo: null,
    upcs: entry.ProductUPCs,
    hazard: joined(entry.Hazards),
    remedy: joined(entry.Remedies),
    units: joined(products.map((one) => one.NumberOfUnits)),
    incidents: joined(entry.Injuries),
    contact: entry.ConsumerContact || null,
    url: entry.URL || null,
  };
}

/** The service answers errors with HTTP 200 and one record whose RecallID is 0. */
function isErrorRecord(entry: ServiceRecord): boolean {
  return /^error retrieving recalls/i.test(entry.Title) && (entry.RecallID === "0" || entry.RecallID === "");
}

function firstError(records: readonly unknown[]): string | null {
  for (const entry of records) {
    const parsed = record.safeParse(entry);
    if (parsed.success && isErrorRecord(parsed.data)) return parsed.data.Title.slice(0, 120);
  }
  return null;
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
