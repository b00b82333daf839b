import { ink, inside, type Paper, page, printable, type Style } from "./pdf-paper";
import { wrapped } from "./pdf-wrap";

/** Draws on the paper from the top down, and turns the page. */
export class Flow {
  y = 0;
  /** What a continued page repeats at its top. */
  private again: (() => void) | null = null;

  constructor(readonly paper: Paper) {
    this.turn();
  }

  /** The page in hand, counted from 1. */
  get page(): number {
    return this.paper.pdf.bufferedPageRange().count;
  }

  turn(): void {
    this.paper.pdf.addPage();
    this.y = inside.top;
    this.again?.();
  }

  /** Says what each further page starts with; null for nothing. */
  repeat(again: (() => void) | null): void {
    this.again = again;
  }

  /** Turns the page unless `height` is left on it. */
  room(height: number): void {
    if (this.y + height > inside.bottom) this.turn();
  }

  rule(weight: number, colour: string): void {
    this.paper.rule(this.y, { weight, colour });
  }

  /** Text over a width from the left, whole. */
  paragraph(text: string, style: Style, width: number = inside.width): void {
    const step = style.size * 1.35;
    for (const line of wrapped(this.paper, printable(text), style, width)) {
      this.room(step);
      this.paper.write(line, { x: inside.left, y: this.y + style.size }, style);
      this.y += step;
    }
  }
}

/** Writes the foot of every page: what document this is, and which page of how many. */
export function drawFeet(paper: Paper, left: string): void {
  const { pdf } = paper;
  const style: Style = { face: "text", size: 7.5, colour: ink.second };
  const { start, count } = pdf.bufferedPageRange();
  const y = page.height - 24;
  const right = (i: number) => `Page ${i + 1} of ${count}`;
  const [line = ""] = wrapped(paper, printable(left), style, inside.width - paper.widthOf(right(count), style) - 12);
  for (let i = 0; i < count; i++) {
    pdf.switchToPage(start + i);
    // The foot lies in the margin, where the library would turn the page.
    pdf.page.margins.bottom = 0;
    paper.rule(y - 12, { weight: 0.4, colour: ink.rule });
    paper.writeBefore(right(i), { x: inside.right, y }, style);
    paper.write(line, { x: inside.left, y }, style);
  }
}
