import { isSignalWord } from "@/lib/casework/signal-word";
import type { SignalWord } from "@/lib/watch/screening-result";
import { ink, type Paper, type Spot, type Style } from "./pdf-paper";

interface Panel {
  readonly ground: string;
  readonly word: string;
  /** Colour of the safety alert symbol; null where the word goes without. */
  readonly sign: string | null;
}

/** Panels near the safety colours of ANSI Z535.1 and ISO 3864, as on screen. */
const panels: Readonly<Record<SignalWord, Panel>> = {
  DANGER: { ground: "#c8102e", word: "#ffffff", sign: "#ffffff" },
  WARNING: { ground: "#ff8200", word: "#000000", sign: "#000000" },
  CAUTION: { ground: "#ffd100", word: "#000000", sign: "#000000" },
  NOTICE: { ground: "#0058a9", word: "#ffffff", sign: null },
};

/** The safety alert symbol of `size`, its lower left corner at a spot. */
function drawTriangle({ pdf }: Paper, { x, y }: Spot, { sign, ground, size }: { sign: string; ground: string; size: number }): void {
  const [half, width, middle] = [size / 2, size / 9, x + size / 2];
  pdf
    .moveTo(middle, y - size * 0.9)
    .lineTo(middle + half, y)
    .lineTo(middle - half, y)
    .closePath()
    .fillColor(sign)
    .fill();
  pdf
    .rect(middle - width / 2, y - size * 0.6, width, size * 0.32)
    .rect(middle - width / 2, y - size * 0.2, width, width)
    .fillColor(ground)
    .fill();
}

/** A signal word on its panel, with the safety alert symbol where it has one: symbol and word always stand together. `at` is its line. */
export function drawSignalWord(paper: Paper, text: string, { x, y }: Spot, size = 9): void {
  const style: Style = { face: text === "NOTICE" ? "plateSlanted" : "plateStrong", size };
  if (!isSignalWord(text)) {
    paper.write(text, { x, y }, style);
    return;
  }
  const { ground, word, sign } = panels[text];
  const symbol = sign === null ? 0 : size + 2;
  const width = symbol + paper.widthOf(text, style) + 8;
  paper.pdf
    .rect(x, y - size, width, size * 1.3)
    .fillColor(ground)
    .fill();
  if (sign !== null) drawTriangle(paper, { x: x + 4, y: y + size * 0.05 }, { sign, ground, size });
  paper.write(text, { x: x + 4 + symbol, y }, { ...style, colour: word });
}

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The strip of a rating plate: tin, with a fine edge and small corners. Plates alone are not flat. */
export function drawPlateStrip({ pdf }: Paper, { x, y, width, height }: Box): void {
  pdf.roundedRect(x, y, width, height, 2.2).lineWidth(0.5).fillAndStroke(ink.well, ink.rule);
}

/** Where the limit stands on every bar, as on screen. */
const limitAt = 0.8;

/** A share of a limit as a bar; the limit stands at the same place on each, and what is past it is hatched. */
export function drawLimitBar({ pdf }: Paper, share: number, { x, y, width, height }: Box): void {
  const limit = x + limitAt * width;
  const end = x + Math.min(width, share * limitAt * width);
  pdf.rect(x, y, width, height).fillColor(ink.well).fill();
  if (end > x)
    pdf
      .rect(x, y, Math.min(end, limit) - x, height)
      .fillColor(ink.second)
      .fill();
  if (end > limit) {
    pdf
      .save()
      .rect(limit, y, end - limit, height)
      .clip();
    for (let at = limit - height; at < end; at += 2.5) pdf.moveTo(at, y + height).lineTo(at + height, y);
    pdf.lineWidth(1).strokeColor(ink.danger).stroke().restore();
  }
  pdf
    .moveTo(limit, y - 2)
    .lineTo(limit, y + height + 2)
    .lineWidth(0.8)
    .strokeColor(ink.text)
    .stroke();
}
