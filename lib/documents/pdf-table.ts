import type { Flow } from "./pdf-flow";
import { ink, inside, printable, type Style } from "./pdf-paper";
import { drawLimitBar, drawPlateStrip, drawSignalWord } from "./pdf-plate";
import { cutLines, wrapped } from "./pdf-wrap";
import type { ColumnLook, PackCell, PackSection, PaperColumn } from "./site-pack-section";

const gap = 6;
const lineHeight = 10.5;
const padding = 3.5;
/** The first line of a row stands this far below the row's top. */
const firstLine = padding + 8;
/** A cell with more lines ends by saying where the rest is: a row must fit a page. */
const mostLines = 40;
const restWords = "… the rest is in the pack’s tables.";

const styles: Readonly<Record<ColumnLook, Style>> = {
  text: { face: "text", size: 8.5 },
  word: { face: "plateStrong", size: 9 },
  code: { face: "code", size: 7.5 },
  plate: { face: "plateStrong", size: 9.5 },
  "plate figure": { face: "plate", size: 9.5 },
  figure: { face: "text", size: 8.5 },
  theirs: { face: "theirs", size: 8 },
  bar: { face: "text", size: 8.5 },
};
const headStyle: Style = { face: "text", size: 7.5, colour: ink.third };
const unreadStyle: Style = { face: "plate", size: 9, colour: ink.third };

interface Laid {
  readonly column: PaperColumn;
  /** Its place in a section's row. */
  readonly at: number;
  readonly x: number;
  readonly width: number;
}

const isPlate = ({ look }: PaperColumn) => look.startsWith("plate");
const isFigure = ({ look }: PaperColumn) => look === "figure" || look === "plate figure";

/** Whether a section's plates are strips, which have a rating, or names alone. */
const hasStrip = (columns: readonly PaperColumn[]) => columns.some(({ look }) => look === "plate figure");

const sum = (numbers: readonly number[]) => numbers.reduce((total, one) => total + one, 0);

/** Figures, words and codes have the width they need; what reads as text shares the rest. */
function shareOut(columns: readonly PaperColumn[], whole: number): number[] {
  const isFixed = ({ look }: PaperColumn) => look === "figure" || look === "plate figure" || look === "code" || look === "word";
  const [fixed, others] = [columns.filter(isFixed), columns.filter((column) => !isFixed(column))];
  const rest = whole - sum(fixed.map(({ width }) => width));
  const scale = rest / sum(others.map(({ width }) => width));
  return columns.map((column) => (isFixed(column) ? column.width : column.width * scale));
}

/** The columns of a table on the paper's width. A strip reaches beyond its columns, so it has more air at its ends. */
function layOut({ columns }: PackSection): Laid[] {
  const printed = columns.flatMap(({ paper }, at) => (paper === null ? [] : [{ column: paper, at }]));
  const strip = hasStrip(printed.map(({ column }) => column));
  const isOnStrip = (column: PaperColumn, i: number) => strip && (isPlate(column) || isBetweenPlates(printed, i));
  const gaps = printed.map(({ column }, i) => {
    const next = printed[i + 1]?.column;
    return next === undefined ? 0 : isOnStrip(column, i) === isOnStrip(next, i + 1) ? gap : 2 * gap;
  });
  const widths = shareOut(
    printed.map(({ column }) => column),
    inside.width - sum(gaps),
  );
  let x = inside.left;
  return printed.map(({ column, at }, i) => {
    const laid = { column, at, x, width: widths[i] ?? 0 };
    x += laid.width + (gaps[i] ?? 0);
    return laid;
  });
}

/** A serial stands on the plate too, between its maker and its figures. */
function isBetweenPlates(printed: readonly { readonly column: PaperColumn }[], i: number): boolean {
  const [before, after] = [printed.slice(0, i), printed.slice(i + 1)];
  return before.some(({ column }) => isPlate(column)) && after.some(({ column }) => isPlate(column));
}

/** One section's table, row by row; the names of the columns stand at the top of each page. */
export class Table {
  private readonly laid: readonly Laid[];
  private readonly strip: readonly Laid[];

  constructor(
    private readonly flow: Flow,
    section: PackSection,
  ) {
    this.laid = layOut(section);
    const columns = this.laid.map(({ column }) => column);
    const plates = hasStrip(columns) ? columns.map(isPlate) : [];
    this.strip = plates.includes(true) ? this.laid.slice(plates.indexOf(true), plates.lastIndexOf(true) + 1) : [];
    this.heads();
    flow.repeat(() => {
      const style: Style = { face: "strong", size: 9, colour: ink.second };
      flow.paper.write(`${section.head}, continued`, { x: inside.left, y: flow.y + 9 }, style);
      flow.y += 16;
      this.heads();
    });
  }

  private heads(): void {
    const { flow } = this;
    const lines = this.laid.map(({ column, width }) => wrapped(flow.paper, column.label, headStyle, width));
    const most = Math.max(...lines.map(({ length }) => length));
    for (const [i, laid] of this.laid.entries()) this.write(laid, lines[i] ?? [], { y: flow.y + 8, style: headStyle, step: 9 });
    flow.y += 9 * most + 4;
    flow.rule(0.6, ink.text);
    flow.y += 1;
  }

  row(row: readonly PackCell[]): void {
    const { flow } = this;
    const cells = this.laid.map((laid) => this.linesOf(laid, row[laid.at] ?? null));
    const height = Math.max(1, ...cells.map(({ lines }) => lines.length)) * lineHeight + 2 * padding;
    flow.room(height);
    if (this.strip.length > 0) this.stripUnder(cells);
    for (const [i, laid] of this.laid.entries()) this.cell(laid, cells[i] ?? { lines: [], style: headStyle });
    flow.y += height;
    flow.rule(0.4, ink.hair);
  }

  /** A cell's lines. What was not read of a plate says so: a missing figure is a centred dot, never a zero. */
  private linesOf({ column, width }: Laid, value: PackCell): { lines: readonly string[]; style: Style } {
    const text = printable(value ?? "");
    if (text !== "" || !isPlate(column)) {
      const style = styles[column.look];
      return { lines: cutLines(wrapped(this.flow.paper, text, style, width), mostLines, restWords), style };
    }
    const words = column.look === "plate" ? `${column.label.toLowerCase()} not read` : "·";
    return { lines: wrapped(this.flow.paper, words, unreadStyle, width), style: unreadStyle };
  }

  private cell(laid: Laid, { lines, style }: { lines: readonly string[]; style: Style }): void {
    const y = this.flow.y + firstLine;
    const { column, x, width } = laid;
    if (column.look === "word") drawSignalWord(this.flow.paper, lines[0] ?? "", { x, y });
    else if (column.look === "bar") this.bar(lines[0], { x, y: y - 6, width, height: 6 });
    else this.write(laid, lines, { y, style, step: lineHeight });
  }

  private bar(share: string | undefined, box: { x: number; y: number; width: number; height: number }): void {
    if (share !== undefined) drawLimitBar(this.flow.paper, Number(share), box);
  }

  private write({ column, x, width }: Laid, lines: readonly string[], at: { y: number; style: Style; step: number }): void {
    for (const [i, line] of lines.entries()) {
      const y = at.y + i * at.step;
      if (isFigure(column)) this.flow.paper.writeBefore(line, { x: x + width, y }, at.style);
      else this.flow.paper.write(line, { x, y }, at.style);
    }
  }

  private stripUnder(cells: readonly { readonly lines: readonly string[] }[]): void {
    const [first, last] = [this.strip[0], this.strip.at(-1)];
    if (!first || !last) return;
    const most = Math.max(1, ...this.strip.map((laid) => cells[this.laid.indexOf(laid)]?.lines.length ?? 0));
    const box = { x: first.x - 4, width: last.x + last.width - first.x + 8, y: this.flow.y + 1.5, height: most * lineHeight + 4 };
    drawPlateStrip(this.flow.paper, box);
  }
}
