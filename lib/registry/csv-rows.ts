import Papa from "papaparse";

/** One record of a CSV text: the line it begins on (1-based), its cells, and why it cannot be read as it stands. */
export interface RawRow {
  readonly line: number;
  readonly cells: readonly string[];
  readonly problem: string | null;
}

/** A record longer than this has lost a quotation mark. */
const longestRecord = 128 * 1024;

interface ParsedText {
  readonly data: string[][];
  readonly errors: readonly { readonly row: number }[];
  readonly meta: { readonly cursor: number };
}

const newlinesIn = (cells: readonly string[]): number =>
  cells.reduce((sum, cell) => (cell.includes("\n") ? sum + cell.split("\n").length - 1 : sum), 0);

const isBlank = (cells: readonly string[]): boolean => cells.every((cell) => cell.trim() === "");

/**
 * Cuts text that comes in pieces into records (RFC 4180). A quotation mark that is never closed would swallow the rows behind
 * it: such a record is read line by line instead, each line for itself, until a sound one comes, so that damage stays where it is.
 */
export class CsvRows {
  private carry = "";
  private line = 1;
  private byLine = false;

  constructor(
    private readonly delimiter: string,
    private readonly width: number,
    firstLine: number,
  ) {
    this.line = firstLine;
  }

  /** Takes the next piece and returns the records it completes; `isLast` completes the rest. */
  take(text: string, isLast: boolean): RawRow[] {
    this.carry += text;
    const rows: RawRow[] = [];
    while (this.carry !== "") {
      const isStuck = this.byLine ? this.takeLine(rows, isLast) : this.takeWhole(rows, isLast);
      if (isStuck) break;
    }
    return rows;
  }

  private parse(text: string, config: { ignoreLast: boolean; preview?: number }): ParsedText {
    const parser = new Papa.Parser({
      delimiter: this.delimiter,
      newline: "\n",
      ...(config.preview === undefined ? {} : { preview: config.preview }),
    });
    return parser.parse(text, 0, config.ignoreLast) as ParsedText;
  }

  /** Reads all complete records; true when it must wait for more text. */
  private takeWhole(rows: RawRow[], isLast: boolean): boolean {
    const parsed = this.parse(this.carry, { ignoreLast: !isLast });
    const badAt = parsed.errors.length === 0 ? -1 : this.firstBroken(parsed);
    if (badAt < 0) {
      for (const cells of parsed.data) this.add(rows, cells);
      this.carry = isLast ? "" : this.carry.slice(parsed.meta.cursor);
      if (isLast) return true;
      this.byLine = this.carry.length > longestRecord;
      return !this.byLine;
    }
    for (const cells of parsed.data.slice(0, badAt)) this.add(rows, cells);
    if (badAt > 0) this.carry = this.carry.slice(this.parse(this.carry, { ignoreLast: false, preview: badAt }).meta.cursor);
    this.byLine = true;
    return false;
  }

  /** The first record whose quotation marks leave its cells in doubt; one line with the right number of cells is beyond doubt. */
  private firstBroken(parsed: ParsedText): number {
    for (const { row } of parsed.errors) {
      const cells = parsed.data[row];
      if (cells === undefined || cells.length !== this.width || newlinesIn(cells) > 0) return row;
    }
    return -1;
  }

  /** Reads one line for itself; true when it must wait for more text. */
  private takeLine(rows: RawRow[], isLast: boolean): boolean {
    const end = this.carry.indexOf("\n");
    if (end < 0 && !isLast && this.carry.length <= longestRecord) return true;
    const text = end < 0 ? this.carry : this.carry.slice(0, end);
    this.carry = end < 0 ? "" : this.carry.slice(end + 1);
    if (text.trim() === "") {
      this.line += 1;
      return false;
    }
    const parsed = this.parse(text, { ignoreLast: false });
    const cells = parsed.data[0] ?? [];
    if (parsed.errors.length === 0 && cells.length === this.width) {
      this.byLine = false;
      this.add(rows, cells);
      return false;
    }
    const literal = text.split(this.delimiter);
    if (literal.length === this.width) this.add(rows, literal);
    else {
      rows.push({ line: this.line, cells: [text], problem: brokenQuotes(this.line) });
      this.line += 1;
    }
    return false;
  }

  private add(rows: RawRow[], cells: readonly string[]): void {
    const line = this.line;
    this.line += 1 + newlinesIn(cells);
    if (!isBlank(cells)) rows.push({ line, cells, problem: this.extraCells(cells, line) });
  }

  private extraCells(cells: readonly string[], line: number): string | null {
    if (cells.length <= this.width || isBlank(cells.slice(this.width))) return null;
    return `Line ${line} has ${cells.length} cells under ${this.width} headers: a text with the separator in it needs quotation marks around it.`;
  }
}

function brokenQuotes(line: number): string {
  return `Line ${line} has a quotation mark that is not closed, so its cells cannot be told apart: close it, or write it twice inside a quoted cell.`;
}
