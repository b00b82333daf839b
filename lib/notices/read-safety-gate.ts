import { toGtin14 } from "@/lib/identity/gtin";
import { csvRecords } from "./csv-records";
import { htmlText } from "./html-text";
import { jsonText } from "./json-text";
import { keyNotices, numberOf, type UnkeyedNotice } from "./notice-keys";
import { type NoticeList, type RefusedNoticeList, refused, type SetAsideRecord, setAside } from "./notice-list";
import { OtherKinds } from "./other-kinds";
import { publishedDate, wholeDay } from "./published-date";
import { type Alert, readAlert } from "./safety-gate-fields";
import { readSafetyGateXml, type XmlReport } from "./safety-gate-xml";

const source = "EU Safety Gate";

interface AlertRecord {
  readonly line: number;
  readonly fields: Readonly<Record<string, string>>;
  readonly raw: string;
  readonly problem: string | null;
}

/** Whether a text is an XML document of the Safety Gate: a weekly report, or the list of them. */
export function isSafetyGateXml(text: string): boolean {
  return /<(?:\w+:)?(?:Safety-Gate|weeklyReport|caseNumber)[\s>]/.test(text.slice(0, 50_000));
}

/**
 * The EU Safety Gate's weekly report (XML). Which field names are confirmed and which are from memory stands in
 * `safety-gate-fields.ts`. Each report holds one week's alerts, so an earlier one is not gone when a report lacks it. Motor
 * vehicles are set aside by kind; every other category is kept.
 */
export function readSafetyGate(text: string): NoticeList {
  const report = readSafetyGateXml(text);
  if ("problem" in report) return refused(`The XML of this recall list is damaged or was cut off (${report.problem}); fetch it again.`);
  if (report.alerts.length === 0 && report.reports.length > 0) return listOfReports(report.reports);
  if (report.alerts.length === 0) return refused("This XML holds no alert of the EU Safety Gate; fetch a weekly report.");
  const date = report.head["report_date"] ?? "";
  const records = report.alerts.map((fields, at) => ({
    line: at + 1,
    fields: { ...fields, report_date: date },
    raw: jsonText(fields),
    problem: null,
  }));
  return toList(records);
}

/** The list of the weekly reports: the reports' addresses, by the day of publication, the newest first. */
function listOfReports(reports: XmlReport["reports"]): RefusedNoticeList {
  const dated = reports.map((fields) => ({
    address: (fields["URL"] ?? "").replace(/[\s,;]+$/, ""),
    day: europeanDay(fields["publicationDate"] ?? "") ?? "",
  }));
  const newestFirst = dated
    .filter(({ address }) => address !== "")
    .sort((one, other) => (one.day < other.day ? 1 : one.day > other.day ? -1 : 0));
  const problem = "This is the list of the EU Safety Gate's weekly reports, not a report; give the address of a report itself.";
  return { ok: false, problem, reports: [...new Set(newestFirst.map(({ address }) => address))] };
}

/** The table of alerts that the Safety Gate's web site exports (CSV, or saved as one from its workbook). */
export function readSafetyGateTable(text: string): NoticeList {
  return toList(csvRecords(text).records.map(({ line, cells, raw, problem }) => ({ line, fields: cells, raw: raw.join(","), problem })));
}

function toList(records: readonly AlertRecord[]): NoticeList {
  const notices: UnkeyedNotice[] = [];
  const aside: SetAsideRecord[] = [];
  const others = new OtherKinds();
  for (const { line, fields, raw, problem } of records) {
    const alert = readAlert(fields, htmlText);
    const notice = problem === null ? toNotice(alert) : null;
    if (notice && /^motor vehicles?$/i.test(alert.category)) others.take("Motor vehicles", { line, number: notice.number });
    else if (notice) notices.push(notice);
    else aside.push(setAside(line, problem ?? `Alert ${line} has neither a number nor a product, so it is no notice.`, raw));
  }
  const list = { ok: true, format: "eu-safety-gate", source, isExtract: true } as const;
  return { ...list, notices: keyNotices(notices), setAside: [...aside, ...others.rows()] };
}

function toNotice(alert: Alert): UnkeyedNotice | null {
  const reference = /^https?:/i.test(alert.reference) ? "" : alert.reference;
  const title = [alert.product, alert.name].filter((part) => part !== "").join(", ");
  const number = numberOf(alert.number || reference, "", title);
  if (number === null) return null;
  const codes = codesOf(alert);
  const lines = [alert.description, codes.batch && `Batch number: ${codes.batch}.`, alert.made && `Production dates: ${alert.made}.`];
  return {
    number,
    recordId: null,
    source,
    format: "eu-safety-gate",
    date: europeanDay(alert.date),
    lastPublished: null,
    title: title || alert.brand,
    description: lines.filter((line) => line !== "").join("\n"),
    productNames: [alert.product, alert.name].filter((name) => name !== ""),
    statedBrands: separated(alert.brand),
    makers: [],
    importers: [],
    distributors: [],
    retailers: alert.trader === "" ? [] : [alert.trader],
    statedModels: alert.models || null,
    statedSerials: null,
    madeFrom: null,
    madeTo: null,
    upcs: codes.upcs,
    hazard: [alert.level, alert.riskType, alert.risk].filter((part) => part !== "").join(": ") || null,
    remedy: alert.measures || null,
    units: null,
    incidents: null,
    contact: alert.recallPage || null,
    url: alert.url || (reference === "" ? alert.reference : "") || null,
  };
}

/** Barcodes, and what of a field for both is none: batches. */
function codesOf({ batch, barcode, batchOrBarcode }: Alert): { upcs: string[]; batch: string } {
  const pieces = batchOrBarcode.split(/[;,|\n]+/).map((piece) => piece.trim());
  const isBarcode = (piece: string) => toGtin14(piece) !== null;
  const stated = barcode.split(/[;,|\n]+|\s\/\s/).map((piece) => piece.trim());
  const upcs = [...stated, ...pieces.filter(isBarcode)].filter((code) => /\d/.test(code));
  const batches = [batch, ...pieces.filter((piece) => piece !== "" && !isBarcode(piece))];
  return { upcs: [...new Set(upcs)], batch: batches.filter((piece) => piece !== "").join(", ") };
}

/** Several brands in one cell stand between `;`, `|`, line ends or a spaced slash; a comma may belong to a name. */
function separated(cell: string): string[] {
  return cell
    .split(/[;|\n]+|\s\/\s/)
    .map((part) => part.trim())
    .filter((part) => part !== "");
}

/** Days of this publisher stand as day/month/year. */
function europeanDay(text: string): string | null {
  const european = /^\s*(\d{1,2})[/.-](\d{1,2})[/.-](\d{4})\b/.exec(text);
  return european ? wholeDay(Number(european[3]), Number(european[2]), Number(european[1])) : publishedDate(text);
}
