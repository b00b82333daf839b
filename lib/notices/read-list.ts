import { csvRecords } from "./csv-records";
import { decodeText, withoutMark } from "./decode-text";
import { type NoticeList, refused } from "./notice-list";
import { isCanadaOpenData, isCanadaOpenTable, readCanadaOpenData, readCanadaOpenTable } from "./read-canada-open-data";
import { canadaRecallRecords, readCanadaRecallApi } from "./read-canada-recall-api";
import { isPlainList, readPlainList } from "./read-plain-list";
import { isSafetyGateXml, readSafetyGate, readSafetyGateTable } from "./read-safety-gate";
import { isUsWebService, readUsWebService } from "./read-us-web-service";
import { isUsWebsiteExport, readUsWebsiteExport } from "./read-us-website-export";
import { isAlertHeader } from "./safety-gate-fields";

const formats =
  "the US recall web service (JSON), the US recall web site's CSV export, Canada's open recall data (JSON or CSV) and older recall service (JSON), the EU Safety Gate's weekly report (XML) and table (CSV), and the plain list (CSV)";

/**
 * Reads a published recall list, recognised by its content.
 * Each record becomes a notice, in list order, or is set aside with its place and reason. Input that is no list at all
 * (empty, cut off, a web page, an error message of the service) is refused with one sentence.
 */
export function readNoticeList(input: Uint8Array | string): NoticeList {
  if (typeof input !== "string" && isWorkbook(input))
    return refused("This is a spreadsheet workbook; save its sheet as CSV and give that.");
  const text = typeof input === "string" ? withoutMark(input) : decodeText(input);
  const start = text.trimStart().slice(0, 200);
  if (start === "") return refused("The recall list is empty; fetch or export it again.");
  if (start.startsWith("<")) return readMarkup(text, start);
  return start.startsWith("[") || start.startsWith("{") ? readJson(text) : readCsv(text);
}

/** The first bytes of a zip (xlsx, ods) or of an older binary workbook (xls). */
function isWorkbook(bytes: Uint8Array): boolean {
  const [first, second, third, fourth] = bytes;
  const isZip = first === 0x50 && second === 0x4b && third === 0x03 && fourth === 0x04;
  return isZip || (first === 0xd0 && second === 0xcf && third === 0x11 && fourth === 0xe0);
}

function readMarkup(text: string, start: string): NoticeList {
  if (isSafetyGateXml(text)) return readSafetyGate(text.trimStart());
  if (/^<\?xml/i.test(start) && !/<html/i.test(start))
    return refused(`This is an XML document; the lists that can be read are ${formats}.`);
  if (/^<(?:!doctype|html|head|body|\?xml|!--)/i.test(start))
    return refused("This is a web page, not a recall list; save the list itself (its JSON or CSV), not the page that shows it.");
  return refused(`This is no recall list that can be read; the lists that can be read are ${formats}.`);
}

function readJson(text: string): NoticeList {
  const parsed = parseJson(text);
  if (parsed === undefined)
    return refused("The recall list is not complete JSON: it seems to have been cut off or edited; fetch it again.");
  const recalls = canadaRecallRecords(parsed);
  if (recalls.length > 0) return readCanadaRecallApi(recalls);
  const records = recordsOf(parsed);
  if (records.length === 0) return refused("The recall list holds no record; fetch it again with a query that finds some.");
  if (isUsWebService(records)) return readUsWebService(records);
  if (isCanadaOpenData(records)) return readCanadaOpenData(records);
  return refused(`This JSON is no recall list that can be read; the lists that can be read are ${formats}.`);
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

const isKnown = (records: readonly unknown[]) => isUsWebService(records) || isCanadaOpenData(records);

/** The records of a bare array, of an array wrapped in one object (`{"results": [...]}`), or of a single record. */
function recordsOf(parsed: unknown): readonly unknown[] {
  if (Array.isArray(parsed)) return parsed;
  if (typeof parsed !== "object" || parsed === null) return [];
  if (isKnown([parsed])) return [parsed];
  const wrapped = Object.values(parsed).filter((value): value is unknown[] => Array.isArray(value));
  return wrapped.find(isKnown) ?? wrapped[0] ?? [parsed];
}

function readCsv(text: string): NoticeList {
  const { header } = csvRecords(headOf(text));
  if (isUsWebsiteExport(header)) return withRecords(readUsWebsiteExport(text));
  if (isCanadaOpenTable(header)) return withRecords(readCanadaOpenTable(text));
  if (isAlertHeader(header)) return withRecords(readSafetyGateTable(text));
  if (isPlainList(header)) return withRecords(readPlainList(text));
  return refused(`This is no recall list that can be read; the lists that can be read are ${formats}.`);
}

/** Enough of the text to hold any sensible header line. */
function headOf(text: string): string {
  const head = text.slice(0, 20_000).trimStart();
  const end = head.search(/[\r\n]/);
  return end < 0 ? head : head.slice(0, end);
}

function withRecords(list: NoticeList): NoticeList {
  return list.ok && list.notices.length === 0 && list.setAside.length === 0
    ? refused("The recall list holds no record below its header; export it again.")
    : list;
}
