import { isSignalWord } from "@/lib/casework/signal-word";
import type { SignalWord } from "@/lib/watch/screening-result";
import { ink, type Paper, write } from "./pdf-paper";

/** Panels near the safety colours of ANSI Z535.1 and ISO 3864, as on screen. */
const panels: Readonly<Record<SignalWord, { readonly ground: string; readonly word: string; readonly sign: string | null }>> = {
  DANGER: { ground: "#c8102e", word: "#ffffff", sign: "#ffffff" },
  WARNING: { ground: "#ff8200", word: "#000000", sign: "#000000" },
  CAUTION: { ground: "#ffd100", word: "#000000", sign: "#000000" },
  NOTICE: { ground: "#0058a9", word: "#ffffff", sign: null },
};

const height = 11.5;

function drawTriangle(paper: Paper, at: { x: number; y: number }, colour: string, ground: string): void {
  paper
    .moveTo(at.x + 4.5, at.y)
    .lineTo(at.x + 9, at.y + 8)
    .lineTo(at.x, at.y + 8)
    .closePath()
    .fillColor(colour)
    .fill();
  paper
    .rect(at.x + 4, at.y + 2.6, 1, 2.8)
    .fillColor(ground)
    .fill();
  paper
    .rect(at.x + 4, at.y + 6, 1, 1)
    .fillColor(ground)
    .fill();
}

/** A signal word on its panel, with the safety alert symbol where it has one: symbol and word always stand together. */
export function drawSignalWord(paper: Paper, text: string, at: { readonly x: number; readonly y: number }): void {
  if (!isSignalWord(text)) {
    write(paper, text, { ...at, face: "plateStrong", size: 8.5 });
    return;
  }
  const { ground, word, sign } = panels[text];
  const face = text === "NOTICE" ? "plateSlanted" : "plateStrong";
  paper.font(face, 9);
  const left = sign === null ? 4 : 14;
  const width = left + paper.widthOfString(text) + 4;
  paper.rect(at.x, at.y, width, height).fillColor(ground).fill();
  if (sign !== null) drawTriangle(paper, { x: at.x + 3, y: at.y + 1.7 }, sign, ground);
  write(paper, text, { x: at.x + left, y: at.y + 0.4, face, size: 9, colour: word });
}

/** The strip of a rating plate: tin, with a fine edge and small corners. Plates alone are not flat. */
export function drawPlateStrip(paper: Paper, box: { x: number; y: number; width: number; height: number }): void {
  paper.roundedRect(box.x, box.y, box.width, box.height, 2.2).lineWidth(0.5).fillAndStroke(ink.well, ink.rule);
}
