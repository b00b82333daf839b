import { join } from "node:path";
import PDFDocument from "pdfkit";
import { readFace } from "./pdf-face";

/** The faces of the product: our voice, plates and signal words, identifiers, other people's words. */
export type Face = "text" | "strong" | "plate" | "plateStrong" | "plateSlanted" | "code" | "theirs";

/**
 * File of each face. On paper all voices are of the plate's family: the PDF library takes no single weight out of the variable web fonts
 * that the screen's other faces come as. They stay apart by weight and slant.
 */
const faceFiles: Readonly<Record<Face, string>> = {
  text: "400-normal",
  strong: "600-normal",
  plate: "500-normal",
  plateStrong: "700-normal",
  plateSlanted: "700-italic",
  code: "500-normal",
  theirs: "400-italic",
};

/** Colours as on the paper-white theme. */
export const ink = {
  text: "#1a1b1e",
  second: "#45484e",
  third: "#5f6268",
  rule: "#b9b5ab",
  hair: "#dfdcd4",
  well: "#eeece6",
  stamp: "#55368c",
} as const;

export const margin = 36;
export const page = { width: 595.28, height: 841.89 } as const;
export const inside = {
  left: margin,
  right: page.width - margin,
  width: page.width - 2 * margin,
  bottom: page.height - margin - 18,
} as const;

export type Paper = InstanceType<typeof PDFDocument>;

export interface PaperTitle {
  readonly title: string;
  readonly subject: string;
  /** Stands in for the clock, so that the same data gives the same bytes. */
  readonly madeAt: Date;
  /** What the document is made from: its id in the file is taken from this. */
  readonly identity: string;
}

/** An A4 document with the product's faces, in which nothing depends on the clock or on chance. */
export async function openPaper({ title, subject, madeAt, identity }: PaperTitle): Promise<Paper> {
  const info = {
    Title: title,
    Subject: subject,
    Keywords: identity,
    Creator: "Platewarden",
    Producer: "Platewarden",
    CreationDate: madeAt,
    ModDate: madeAt,
  };
  const paper = new PDFDocument({
    size: "A4",
    margin,
    bufferPages: true,
    autoFirstPage: false,
    info,
    lang: "en",
    compress: true,
    displayTitle: true,
  });
  for (const [face, file] of Object.entries(faceFiles)) {
    const name = `barlow-condensed-latin-${file}.woff`;
    paper.registerFont(face, await readFace(join(process.cwd(), "node_modules/@fontsource/barlow-condensed/files", name)));
  }
  return paper;
}

/** Signs that the subsets lack, as words or signs that they have. */
const replaced: readonly (readonly [RegExp, string])[] = [
  [/Ω|Ω/gu, "ohm"],
  [/≤/gu, "at most "],
  [/≥/gu, "at least "],
  [/[→➜]/gu, "to"],
  [/[✓✔]/gu, "yes"],
  [/\p{Cc}+/gu, " "],
];

/** Text as it can be printed: lines become spaces, and what no face has becomes a question mark. */
export function printable(text: string): string {
  let all = text.normalize("NFC");
  for (const [sign, words] of replaced) all = all.replace(sign, words);
  return all.replace(/[^\u0020-\u00ff\u0131\u0152\u0153\u2013\u2014\u2018-\u201e\u2022\u2026\u2032\u2033\u20ac\u2122\u2212]/gu, "?").trim();
}

/** The text cut to a width, with an ellipsis where it was cut. The face and size must be chosen. */
export function fitted(paper: Paper, text: string, width: number): string {
  if (paper.widthOfString(text) <= width) return text;
  let [low, high] = [0, text.length];
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (paper.widthOfString(`${text.slice(0, middle)}…`) <= width) low = middle;
    else high = middle - 1;
  }
  return `${text.slice(0, low).trimEnd()}…`;
}

/** The text broken into at most `most` lines of a width, at spaces where there are any. */
export function wrapped(paper: Paper, text: string, width: number, most = 3): string[] {
  const lines: string[] = [];
  let line = "";
  const words = text.split(" ");
  for (const [i, word] of words.entries()) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (paper.widthOfString(longer) <= width) {
      line = longer;
      continue;
    }
    if (lines.length === most - 1) return [...lines, fitted(paper, [line, ...words.slice(i)].filter(Boolean).join(" "), width)];
    if (line !== "") lines.push(line);
    line = word;
  }
  if (line !== "") lines.push(fitted(paper, line, width));
  return lines;
}

/** Writes one line at a place, without moving anything else. */
export function write(paper: Paper, text: string, at: { x: number; y: number; face: Face; size: number; colour?: string }): void {
  paper.font(at.face, at.size).fillColor(at.colour ?? ink.text);
  paper.text(text, at.x, at.y, { lineBreak: false });
}

/** The finished document as bytes. */
export function bytesOf(paper: Paper): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    const parts: Buffer[] = [];
    paper.on("data", (part: Buffer) => parts.push(part));
    paper.on("end", () => resolve(Buffer.concat(parts)));
    paper.on("error", reject);
    paper.end();
  });
}
