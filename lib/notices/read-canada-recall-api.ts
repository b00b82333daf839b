import { z } from "zod";
import { htmlText } from "./html-text";
import { jsonText, tooDeep } from "./json-text";
import { keyNotices, numberOf, type UnkeyedNotice } from "./notice-keys";
import { type NoticeList, type SetAsideRecord, setAside } from "./notice-list";
import { OtherKinds } from "./other-kinds";
import { publishedDate } from "./published-date";
import { canadaSource } from "./read-canada-open-data";

const text = z
  .union([z.string(), z.number()])
  .nullish()
  .transform((value) => String(value ?? "").trim())
  .catch("");
const panel = z.object({ panelName: text, title: text, text });
const panels = z
  .union([
    z.array(panel.nullable().catch(null)),
    z.record(z.string(), panel.nullable().catch(null)).transform((named) => Object.values(named)),
  ])
  .nullish()
  .transform((list) => (list ?? []).filter((entry) => entry !== null))
  .catch([]);
const categories = z.union([z.array(text), text.transform((one) => [one])]).catch([]);
const record = z.object({
  recallId: text,
  title: text,
  category: categories,
  date_published: text,
  url: text,
  panels,
});
type ApiRecord = z.infer<typeof record>;

/**
 * The records of an answer of Canada's older recall service, wherever they stand: alone, in an array, under `results`, or under
 * the categories ALL, FOOD, VEHICLES, HEALTH, CPS there. Empty when it is no such answer.
 */
export function canadaRecallRecords(parsed: unknown, depth = 0): Record<string, unknown>[] {
  if (typeof parsed !== "object" || parsed === null || depth > 4) return [];
  if ("recallId" in parsed) return [parsed];
  return Object.values(parsed).flatMap((value) => canadaRecallRecords(value, depth + 1));
}

/**
 * Canada's older recall service (JSON).
 *
 * Confirmed by the publisher's own "Canadian Recalls and Safety Alerts API Guide": `recallId`, `title`, `category` (1 food, 2
 * vehicles, 3 health products, 4 consumer products), and the arrays ALL, FOOD, VEHICLES, HEALTH, CPS of the latest recalls. From
 * memory: `date_published` in seconds since 1970, `url`, and the `panels` of a single recall with `panelName`, `title` and `text`
 * in HTML.
 *
 * A recall that stands in several of an answer's arrays is one record. Food and vehicles are set aside by kind. An answer is a short
 * view of all recalls, so what it does not hold is not gone.
 */
export function readCanadaRecallApi(records: readonly Record<string, unknown>[]): NoticeList {
  const notices: UnkeyedNotice[] = [];
  const aside: SetAsideRecord[] = [];
  const others = new OtherKinds();
  distinct(records).forEach((entry, at) => {
    const parsed = record.parse(entry);
    const notice = toNotice(parsed);
    const kind = notice && otherKind(parsed);
    if (notice && kind) others.take(kind, { line: at + 1, number: notice.number });
    else if (notice) notices.push(notice);
    else aside.push(setAside(at + 1, `Record ${at + 1} has neither a recallId nor a title, so it is no notice.`, jsonText(entry)));
  });
  const list = { ok: true, format: "canada-recall-api", source: canadaSource, isExtract: true } as const;
  return { ...list, notices: keyNotices(notices), setAside: [...aside, ...others.rows()] };
}

/** Without what is word for word another record of the same answer. */
function distinct(records: readonly Record<string, unknown>[]): Record<string, unknown>[] {
  const seen = new Set<string>();
  return records.filter((entry) => {
    const content = jsonText(entry);
    if (content === tooDeep) return true;
    return !seen.has(content) && seen.add(content);
  });
}

function otherKind({ category }: ApiRecord): string | null {
  if (category.length === 0 || category.some((code) => code !== "1" && code !== "2")) return null;
  return category.includes("2") ? "Vehicles" : "Food";
}

const remedyPanel = /what_?\s?(?:you|consumers?|to)\b|should do|corrective|remedy/i;
const hazardPanel = /hazard|\bissue|reason for/i;
const contactPanel = /enquir|contact/i;

function toNotice(entry: ApiRecord): UnkeyedNotice | null {
  const title = htmlText(entry.title).replace(/\s+/g, " ");
  const number = numberOf("", entry.recallId, title);
  if (number === null) return null;
  const shown = entry.panels
    .map((one) => ({ name: `${one.panelName} ${one.title}`, text: htmlText(one.text) }))
    .filter((one) => one.text !== "");
  const textOf = (kind: RegExp) => shown.filter(({ name }) => kind.test(name)).map((one) => one.text);
  const said = shown.filter(({ name }) => ![remedyPanel, hazardPanel, contactPanel].some((kind) => kind.test(name)));
  return {
    number,
    recordId: entry.recallId || null,
    source: canadaSource,
    format: "canada-recall-api",
    date: publicationDay(entry.date_published),
    lastPublished: null,
    title,
    description: said.map((one) => one.text).join("\n"),
    productNames: [],
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
    hazard: textOf(hazardPanel).join("\n") || null,
    remedy: textOf(remedyPanel).join("\n") || null,
    units: null,
    incidents: null,
    contact: textOf(contactPanel).join("\n") || null,
    url: entry.url || null,
  };
}

/** Seconds since 1970, or a date as printed. Midnight in Ottawa is the same day in UTC, so no zone is needed. */
function publicationDay(text: string): string | null {
  if (!/^\d{9,11}$/.test(text)) return publishedDate(text);
  return new Date(Number(text) * 1000).toISOString().slice(0, 10);
}
