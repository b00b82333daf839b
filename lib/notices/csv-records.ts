import Papa from "papaparse";

/** One record of a CSV text under its header: cells by header name, or the reason why it cannot be read. */
export interface CsvRecord {
  /** Line of the text the record begins on, 1-based. */
  readonly line: number;
  readonly cells: Readonly<Record<string, string>>;
  readonly raw: readonly string[];
  readonly problem: string | null;
}

/** Header names (trimmed, lower case) and records of a CSV text; blank lines are skipped. Separator `,`, `;` or tab, as the header line shows. */
export function csvRecords(text: string): { header: string[]; records: CsvRecord[] } {
  const delimiter = separatorOf(text);
  const lineAt = lineCounter(text);
  let header: string[] | null = null;
  let rowStart = 0;
  const records: CsvRecord[] = [];
  Papa.parse<string[]>(text, {
    delimiter,
    skipEmptyLines: false,
    step: ({ data, errors, meta }) => {
      const line = lineAt(rowStart);
      rowStart = meta.cursor;
      if (data.every((cell) => cell.trim() === "")) return;
      if (header === null) header = data.map((name) => name.trim().toLowerCase());
      else records.push(toRecord(header, data, line, errors[0]?.type === "Quotes"));
    },
  });
  return { header: header ?? [], records };
}

function toRecord(header: readonly string[], raw: readonly string[], line: number, badQuotes: boolean): CsvRecord {
  const cells: Record<string, string> = {};
  header.forEach((name, at) => {
    if (name !== "" && !Object.hasOwn(cells, name)) cells[name] = raw[at] ?? "";
  });
  return { line, cells, raw, problem: badQuotes ? quotesProblem(line) : extraProblem(header, raw, line) };
}

function quotesProblem(line: number): string {
  return `The record that begins on line ${line} has a quotation mark that is never closed, so its cells cannot be told apart; the file may be cut off there.`;
}

function extraProblem(header: readonly string[], raw: readonly string[], line: number): string | null {
  const extra = raw.slice(header.length).filter((cell) => cell.trim() !== "");
  if (extra.length === 0) return null;
  return `The record that begins on line ${line} has more cells than the header has names; a text with the separator in it needs quotation marks around it.`;
}

/** The separator that the header line uses most, outside quotation marks. */
export function separatorOf(text: string): "," | ";" | "\t" {
  const counts = { ",": 0, ";": 0, "\t": 0 };
  let quoted = false;
  for (let at = 0; at < Math.min(text.length, 20_000); at++) {
    const character = text[at];
    if (character === '"') quoted = !quoted;
    else if (!quoted && (character === "\n" || character === "\r") && counts[","] + counts[";"] + counts["\t"] > 0) break;
    else if (!quoted && (character === "," || character === ";" || character === "\t")) counts[character] += 1;
  }
  if (counts["\t"] > counts[","] && counts["\t"] > counts[";"]) return "\t";
  return counts[";"] > counts[","] ? ";" : ",";
}

/** Offset -> line, for offsets asked in rising order; blank lines before the record count as its line's past. */
function lineCounter(text: string): (offset: number) => number {
  let line = 1;
  let done = 0;
  return (offset) => {
    for (; done < offset; done++) if (text.charCodeAt(done) === 10) line += 1;
    return line;
  };
}
