import { join } from "node:path";
import { readFace } from "./pdf-face";
import { PagedPdf } from "./pdf-paged";

/** The faces of the product: our voice, plates and signal words, identifiers, other people's words. */
export type Face = "text" | "strong" | "plate" | "plateStrong" | "plateSlanted" | "code" | "theirs";

interface FaceFiles {
  readonly family: string;
  readonly style: string;
  /** Where Greek and Cyrillic letters come from: not every family has them. */
  readonly beyond: string;
}

const sans = "source-sans-3";
const faceFiles: Readonly<Record<Face, FaceFiles>> = {
  text: { family: sans, style: "400-normal", beyond: sans },
  strong: { family: sans, style: "600-normal", beyond: sans },
  plate: { family: "barlow-condensed", style: "500-normal", beyond: sans },
  plateStrong: { family: "barlow-condensed", style: "600-normal", beyond: sans },
  plateSlanted: { family: "barlow-condensed", style: "700-italic", beyond: sans },
  code: { family: "m-plus-1-code", style: "500-normal", beyond: sans },
  theirs: { family: "source-serif-4", style: "400-normal", beyond: "source-serif-4" },
};

/** The files of a face in the order in which a sign is looked for in them. */
function subsetsOf({ family, style, beyond }: FaceFiles): string[] {
  const other = family === beyond ? style : style.replace("500", "400").replace("700", "600");
  return [
    ...["latin", "latin-ext"].map((script) => `${family}-${script}-${style}`),
    ...["greek", "cyrillic"].map((script) => `${beyond}-${script}-${other}`),
  ];
}

function fileOf(subset: string): string {
  const family = subset.slice(0, subset.search(/-(?:latin|greek|cyrillic)/));
  return join(process.cwd(), "node_modules/@fontsource", family, "files", `${subset}.woff`);
}

/** Colours as on the paper-white theme. */
export const ink = {
  text: "#1a1b1e",
  second: "#45484e",
  third: "#5f6268",
  rule: "#b9b5ab",
  hair: "#dfdcd4",
  well: "#eeece6",
  stamp: "#55368c",
  danger: "#a50d25",
} as const;

const margin = 36;
/** A4, in points of 1/72 inch. */
export const page = { width: 595.28, height: 841.89 } as const;
export const inside = {
  left: margin,
  right: page.width - margin,
  top: margin,
  width: page.width - 2 * margin,
  bottom: page.height - margin - 18,
} as const;

export interface Style {
  readonly face: Face;
  readonly size: number;
  readonly colour?: string;
}

export interface Spot {
  readonly x: number;
  /** The line that the letters stand on. */
  readonly y: number;
}

export interface PaperTitle {
  readonly title: string;
  readonly subject: string;
  /** Stands in for the clock, so that the same data gives the same bytes. */
  readonly madeAt: Date;
  /** What the document is made from: its id in the file is taken from this and the rest of the title. */
  readonly identity: string;
}

/** What is known of the font in hand; the library's types leave it out. */
interface OpenFont {
  readonly _font: { readonly font: { hasGlyphForCodePoint(code: number): boolean } };
}

interface Run {
  readonly font: string;
  readonly text: string;
}

/** Signs that the fonts lack, in words. */
const inWords: readonly (readonly [RegExp, string])[] = [
  [/≤/gu, "at most "],
  [/≥/gu, "at least "],
  [/[→➜]/gu, "to"],
  [/[✓✔]/gu, "yes"],
  [/[\p{Cc}\p{Zl}\p{Zp}]+/gu, " "],
  [/[\u200b-\u200f\u2060-\u2064\ufeff]/gu, ""],
];

/** Text as one line that can be printed. */
export function printable(text: string): string {
  let all = text.normalize("NFC");
  for (const [sign, words] of inWords) all = all.replace(sign, words);
  return all.trim();
}

/** An A4 document with the product's faces, in which nothing depends on the clock or on chance. */
export class Paper {
  /** Signs that no face has; each was printed as a question mark. */
  readonly missing = new Set<string>();
  private readonly fonts = new Map<string, string>();
  private readonly widths = new Map<string, number>();

  private constructor(readonly pdf: PDFKit.PDFDocument) {}

  static async open({ title, subject, madeAt, identity }: PaperTitle): Promise<Paper> {
    const made = { Creator: "Platewarden", Producer: "Platewarden", CreationDate: madeAt, ModDate: madeAt };
    const pdf = new PagedPdf({
      ...{ size: "A4", margin, bufferPages: true, autoFirstPage: false, lang: "en", displayTitle: true },
      font: "",
      info: { Title: title, Subject: subject, Keywords: identity, ...made },
    });
    const subsets = new Set(Object.values(faceFiles).flatMap(subsetsOf));
    for (const subset of subsets) pdf.registerFont(subset, await readFace(fileOf(subset)));
    return new Paper(pdf);
  }

  private fontOf(sign: string, face: Face): string {
    const key = `${face} ${sign}`;
    const known = this.fonts.get(key);
    if (known !== undefined) return known;
    const code = sign.codePointAt(0) ?? 0;
    const has = (subset: string) => (this.pdf.font(subset) as unknown as OpenFont)._font.font.hasGlyphForCodePoint(code);
    const font = subsetsOf(faceFiles[face]).find(has) ?? "";
    this.fonts.set(key, font);
    return font;
  }

  /** The text in stretches of one font each. */
  private runsOf(text: string, face: Face): Run[] {
    const first = subsetsOf(faceFiles[face])[0] ?? "";
    if (/^[\x20-\x7e\xa1-\xff]*$/.test(text)) return [{ font: first, text }];
    const runs: { font: string; text: string }[] = [];
    for (const sign of text) {
      const found = this.fontOf(sign, face);
      if (found === "") this.missing.add(sign);
      const [font, drawn] = found === "" ? [first, "?"] : [found, sign];
      const last = runs.at(-1);
      if (last?.font === font) last.text += drawn;
      else runs.push({ font, text: drawn });
    }
    return runs;
  }

  /** The width of a word at size 1; words come again and again. */
  private wordWidth(word: string, face: Face): number {
    const key = `${face} ${word}`;
    const known = this.widths.get(key);
    if (known !== undefined) return known;
    let width = 0;
    for (const run of this.runsOf(word, face)) width += this.pdf.font(run.font, 1).widthOfString(run.text);
    this.widths.set(key, width);
    return width;
  }

  widthOf(text: string, { face, size }: Style): number {
    const words = text.split(" ");
    const spaces = (words.length - 1) * this.wordWidth(" ", face);
    return size * words.reduce((sum, word) => sum + (word === "" ? 0 : this.wordWidth(word, face)), spaces);
  }

  /** Writes one line at a place, without moving anything else. */
  write(text: string, { x, y }: Spot, style: Style): void {
    this.pdf.fillColor(style.colour ?? ink.text);
    let at = x;
    for (const run of this.runsOf(text, style.face)) {
      this.pdf.font(run.font, style.size).text(run.text, at, y, { lineBreak: false, baseline: "alphabetic" });
      at += this.widthOf(run.text, style);
    }
  }

  /** Writes one line that ends at `x`. */
  writeBefore(text: string, { x, y }: Spot, style: Style): void {
    this.write(text, { x: x - this.widthOf(text, style), y }, style);
  }

  rule(y: number, look: { readonly weight: number; readonly colour: string; readonly from?: number }): void {
    this.pdf
      .moveTo(look.from ?? inside.left, y)
      .lineTo(inside.right, y)
      .lineWidth(look.weight)
      .strokeColor(look.colour)
      .stroke();
  }

  /** The finished document as bytes, and how many pages it has. */
  async end(): Promise<{ bytes: Buffer; pages: number }> {
    const pages = this.pdf.bufferedPageRange().count;
    const parts: Buffer[] = [];
    const bytes = new Promise<Buffer>((resolve, reject) => {
      this.pdf.on("data", (part: Buffer) => parts.push(part));
      this.pdf.on("end", () => resolve(Buffer.concat(parts)));
      this.pdf.on("error", reject);
    });
    this.pdf.end();
    return { bytes: await bytes, pages };
  }
}
