import type { Paper } from "./pdf-paper";
import { fitted, ink, inside, page, printable, wrapped, write } from "./pdf-paper";
import { drawPlateStrip, drawSignalWord } from "./pdf-plate";
import type { ColumnLook, PackColumn, PackSection } from "./site-pack-sections";

const gap = 6;
const lineHeight = 10.5;
const rowPadding = 3.5;
const sizes: Readonly<Record<ColumnLook, number>> = { text: 8.5, word: 8, code: 8, plate: 9, "plate figure": 9, figure: 8.5, theirs: 8.5 };
const faces = {
  text: "text",
  word: "plateStrong",
  code: "code",
  plate: "plateStrong",
  "plate figure": "plate",
  figure: "text",
  theirs: "theirs",
} as const satisfies Record<ColumnLook, string>;
/** Identifiers and plates never break; everything else takes up to three lines. */
const breaks: ReadonlySet<ColumnLook> = new Set(["text", "theirs"]);

interface Laid {
  readonly column: PackColumn;
  readonly x: number;
  readonly width: number;
}

/** The space after a column: wider at the ends of a plate's strip, which reaches beyond its columns. */
function gapAfter({ look }: PackColumn, next: PackColumn | undefined): number {
  return next === undefined ? 0 : look.startsWith("plate") === next.look.startsWith("plate") ? gap : 2 * gap;
}

function layOut(columns: readonly PackColumn[]): Laid[] {
  const gaps = columns.map((column, i) => gapAfter(column, columns[i + 1]));
  const sum = columns.reduce((total, { width }) => total + width, 0);
  const free = inside.width - gaps.reduce((total, one) => total + one, 0);
  let x = inside.left;
  return columns.map((column, i) => {
    const width = (column.width / sum) * free;
    const laid = { column, x, width };
    x += width + (gaps[i] ?? 0);
    return laid;
  });
}

/** Draws on the paper from the top down, and turns the page. */
export class Flow {
  y = 0;
  /** What a continued page repeats at its top. */
  private again: (() => void) | null = null;

  constructor(readonly paper: Paper) {
    this.turn();
  }

  turn(): void {
    this.paper.addPage();
    this.y = inside.left;
    this.again?.();
  }

  /** Turns the page unless `height` is left on it. */
  room(height: number): void {
    if (this.y + height > inside.bottom) this.turn();
  }

  rule(weight: number, colour: string): void {
    this.paper.moveTo(inside.left, this.y).lineTo(inside.right, this.y).lineWidth(weight).strokeColor(colour).stroke();
  }

  paragraph(text: string, size: number, colour: string): void {
    this.paper.font("text", size);
    for (const line of wrapped(this.paper, printable(text), inside.width, 6)) {
      write(this.paper, line, { x: inside.left, y: this.y, face: "text", size, colour });
      this.y += size * 1.35;
    }
  }

  /** One section: its head with the count, its note, and the table or the sentence that nothing is listed. */
  begin({ head, note, empty, rows }: PackSection): void {
    this.again = null;
    this.room(84);
    this.y += 14;
    this.rule(1.4, ink.text);
    this.y += 5;
    write(this.paper, head, { x: inside.left, y: this.y, face: "strong", size: 13 });
    const count = rows.length.toLocaleString("en-US");
    this.paper.font("text", 10);
    write(this.paper, count, {
      x: inside.right - this.paper.widthOfString(count),
      y: this.y + 2,
      face: "text",
      size: 10,
      colour: ink.second,
    });
    this.y += 19;
    if (note !== null) this.paragraph(note, 8.5, ink.second);
    if (rows.length === 0) this.paragraph(empty, 9.5, ink.text);
    this.y += 4;
  }

  /** Draws the names of the columns, here and at the top of each further page of this section. */
  heads(section: PackSection): (row: readonly (string | null)[]) => void {
    const laid = layOut(section.columns);
    const draw = () => {
      for (const { column, x, width } of laid) {
        this.paper.font("text", 7.5);
        const label = fitted(this.paper, column.label, width);
        const left = isFigure(column.look) ? x + width - this.paper.widthOfString(label) : x;
        write(this.paper, label, { x: left, y: this.y, face: "text", size: 7.5, colour: ink.third });
      }
      this.y += 11;
      this.rule(0.6, ink.text);
      this.y += 1;
    };
    draw();
    this.again = () => {
      write(this.paper, `${section.head}, continued`, { x: inside.left, y: this.y, face: "strong", size: 9, colour: ink.second });
      this.y += 14;
      draw();
    };
    return (row) => this.row(laid, row);
  }

  private row(laid: readonly Laid[], row: readonly (string | null)[]): void {
    const cells = laid.map(({ column, width }, i) => this.linesOf(column, row[i] ?? null, width));
    const height = Math.max(1, ...cells.map((lines) => lines.length)) * lineHeight + 2 * rowPadding;
    this.room(height);
    const top = this.y + rowPadding;
    this.plateUnder(laid, row, top);
    for (const [i, { column, x, width }] of laid.entries()) this.cell({ column, x, width }, cells[i] ?? [], top);
    this.y += height;
    this.rule(0.4, ink.hair);
  }

  private linesOf({ look }: PackColumn, value: string | null, width: number): string[] {
    const text = value === null ? "" : printable(value);
    if (text === "") return [];
    this.paper.font(faces[look], sizes[look]);
    return breaks.has(look) ? wrapped(this.paper, text, width) : [fitted(this.paper, text, width)];
  }

  private cell({ column, x, width }: Laid, lines: readonly string[], top: number): void {
    const { look } = column;
    if (look === "word") {
      drawSignalWord(this.paper, lines[0] ?? "", { x, y: top - 1 });
      return;
    }
    const [face, size] = [faces[look], sizes[look]];
    for (const [i, line] of lines.entries()) {
      this.paper.font(face, size);
      const left = isFigure(look) ? x + width - this.paper.widthOfString(line) : x;
      write(this.paper, line, { x: left, y: top + i * lineHeight, face, size });
    }
  }

  /** The strip of the rating plate, with what was not read said on it: a missing rating is a centred dot, never a zero. */
  private plateUnder(laid: readonly Laid[], row: readonly (string | null)[], top: number): void {
    const on = laid.flatMap((one, i) => (one.column.look.startsWith("plate") ? [{ ...one, missing: !row[i] }] : []));
    const [first, last] = [on[0], on.at(-1)];
    if (!first || !last || !on.some(({ column }) => column.look === "plate figure")) return;
    drawPlateStrip(this.paper, { x: first.x - 4, y: top - 2, width: last.x + last.width - first.x + 8, height: lineHeight + 3 });
    for (const { column, x, width, missing } of on) {
      if (!missing) continue;
      const isFact = column.look === "plate";
      const text = isFact ? `${column.label.toLowerCase()} not read` : "·";
      this.paper.font("plate", 8.5);
      const left = isFact ? x : x + width - this.paper.widthOfString(text);
      write(this.paper, fitted(this.paper, text, width), { x: left, y: top, face: "plate", size: 8.5, colour: ink.third });
    }
  }
}

function isFigure(look: ColumnLook): boolean {
  return look === "figure" || look === "plate figure";
}

/** Writes the foot of every page: what document this is, and which page of how many. */
export function drawFeet(paper: Paper, left: string): void {
  const { start, count } = paper.bufferedPageRange();
  for (let i = 0; i < count; i++) {
    paper.switchToPage(start + i);
    const y = page.height - 30;
    const right = `Page ${i + 1} of ${count}`;
    // The foot lies in the margin, where the library would turn the page.
    paper.page.margins.bottom = 0;
    paper
      .moveTo(inside.left, y - 6)
      .lineTo(inside.right, y - 6)
      .lineWidth(0.4)
      .strokeColor(ink.rule)
      .stroke();
    paper.font("text", 7.5);
    write(paper, right, { x: inside.right - paper.widthOfString(right), y, face: "text", size: 7.5, colour: ink.second });
    paper.font("text", 7.5);
    write(paper, fitted(paper, printable(left), inside.width - 80), { x: inside.left, y, face: "text", size: 7.5, colour: ink.second });
  }
}
