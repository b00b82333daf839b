import { once } from "node:events";
import { createReadStream, createWriteStream, readFileSync } from "node:fs";
import Papa from "papaparse";
import { Trouble } from "@/lib/access/trouble";
import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import type { Ask, Candidate } from "@/lib/matching/candidate";
import type { NoticeToIndex } from "@/lib/matching/covered-notice";
import { crossCheck } from "@/lib/matching/cross-check";
import { buildRecallIndex } from "@/lib/matching/recall-index";
import { readNoticeList } from "@/lib/notices/read-list";
import { understand } from "@/lib/notices/understand";
import { openCsvFile } from "@/lib/registry/csv-source";
import { guessMapping, type LabelRow, readLabelRow } from "@/lib/registry/label-row";
import { WrongUse } from "./command";

export interface CrosscheckFiles {
  /** Path of the labels, `-` for standard input. */
  readonly labels: string;
  readonly notices: readonly string[];
  readonly all: boolean;
  readonly out: string;
}

const header = ["tag", "brand", "model", "serial", "notice", "grade", "score", "reasons", "ask"];

function sayAside(file: string, what: string): void {
  process.stderr.write(`${file === "-" ? "standard input" : file}: ${what}\n`);
}

function readBytes(file: string): Uint8Array {
  try {
    return readFileSync(file === "-" ? 0 : file);
  } catch (error) {
    throw new WrongUse(
      `${file} cannot be read (${(error as NodeJS.ErrnoException).code ?? String(error)}): give the path of a file that exists.`,
    );
  }
}

interface ReadLists {
  readonly toIndex: readonly NoticeToIndex[];
  readonly numberOf: ReadonlyMap<string, string>;
  readonly setAside: number;
}

/** Reads and understands the lists. A key gets the list's place in front, so that two lists never share one. */
function readLists(files: readonly string[]): ReadLists {
  const toIndex: NoticeToIndex[] = [];
  const numberOf = new Map<string, string>();
  let setAside = 0;
  files.forEach((file, at) => {
    const list = readNoticeList(readBytes(file));
    if (!list.ok) throw new WrongUse(`${file}: ${list.problem}`);
    for (const notice of list.notices) {
      const key = `${notice.key} ${String(at).padStart(3, "0")}`;
      numberOf.set(key, notice.number);
      toIndex.push({ key, coverage: understand(notice), notice });
    }
    for (const record of list.setAside) sayAside(file, `record at line ${record.line} is set aside: ${record.reason}`);
    setAside += list.setAside.length;
  });
  return { toIndex, numberOf, setAside };
}

function factsOf(row: LabelRow, line: number): ApplianceFacts {
  const { tag, brand, model, serial, dateCode, made, category, upc, labelText } = row;
  return { id: tag ?? `line ${line}`, brand, model, serial, dateCode, made, category, upc, labelText };
}

function askText(ask: Ask | null): string {
  if (ask === null) return "";
  const where = ask.where === null ? "" : ` Where: ${ask.where}.`;
  const answers = ask.answers.map(({ label, leadsTo }) => `${label}: ${leadsTo}`).join("; ");
  return `${ask.question}${where} ${answers}`;
}

function cellsOf(row: LabelRow, candidate: Candidate, numberOf: ReadonlyMap<string, string>): string[] {
  const reasons = candidate.reasons.map(({ sentence, weight }) => `${sentence} [${weight}]`).join(" ");
  const number = numberOf.get(candidate.noticeKey) ?? candidate.noticeKey;
  return [
    row.tag ?? "",
    row.brand ?? "",
    row.model ?? "",
    row.serial ?? "",
    number,
    candidate.grade,
    String(candidate.score),
    reasons,
    askText(candidate.ask),
  ];
}

/** Writes to a file or standard output, waiting when the reader is slower. */
function openOut(path: string): { write(rows: readonly string[][]): Promise<void>; close(): Promise<void> } {
  const stream = path === "-" ? process.stdout : createWriteStream(path);
  const failed = new Promise<never>((_, reject) => {
    stream.once("error", (error) =>
      reject(new WrongUse(`${path} cannot be written (${(error as NodeJS.ErrnoException).code ?? String(error)}).`)),
    );
  });
  failed.catch(() => undefined);
  return {
    async write(rows) {
      if (rows.length === 0) return;
      const text = `${Papa.unparse([...rows], { newline: "\r\n" })}\r\n`;
      if (!stream.write(text)) await Promise.race([once(stream, "drain"), failed]);
    },
    async close() {
      if (path === "-") return;
      stream.end();
      await Promise.race([once(stream, "finish"), failed]);
    },
  };
}

function progress(count: number): void {
  if (process.stderr.isTTY && count % 5000 === 0) process.stderr.write(`\r${count} appliances compared`);
}

/** Compares the labels of a file with recall lists of files and writes the candidates as CSV, in the labels' order. */
export async function crosscheckFiles({ labels, notices, all, out }: CrosscheckFiles): Promise<0 | 1> {
  const lists = readLists(notices);
  const index = buildRecallIndex(lists.toIndex);
  const source = labels === "-" ? process.stdin : createReadStream(labels);
  let setAside = lists.setAside;
  let count = 0;
  try {
    const file = await openCsvFile(source);
    const mapping = guessMapping([...file.headers]);
    const output = openOut(out);
    await output.write([header]);
    for await (const batch of file.batches) {
      const rows: string[][] = [];
      for (const { line, record, problem } of batch) {
        if (problem !== null) {
          sayAside(labels, `${problem} The row is set aside.`);
          setAside++;
          continue;
        }
        const { row } = readLabelRow({ ...record }, mapping);
        for (const candidate of crossCheck(index, factsOf(row, line), { all })) rows.push(cellsOf(row, candidate, lists.numberOf));
        progress(++count);
      }
      await output.write(rows);
    }
    await output.close();
  } catch (error) {
    if (error instanceof Trouble) throw new WrongUse(`${labels}: ${error.message}`);
    const { code } = error as NodeJS.ErrnoException;
    if (code === "ENOENT" || code === "EISDIR" || code === "EACCES")
      throw new WrongUse(`${labels} cannot be read (${code}): give the path of a file that exists.`);
    throw error;
  }
  return setAside > 0 ? 1 : 0;
}
