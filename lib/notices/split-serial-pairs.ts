import { partsOf, type Token } from "./token";

/**
 * Rows of three cells glued to one run: a model, a first and a last serial number (`GX-45` `9344187` `10011080`). The
 * two numbers are told apart by their order and by the lengths that the rows with a letter before the digits show;
 * a row that allows more than one reading stays whole.
 */
export function splitSerialPairs(tokens: readonly Token[]): Token[] {
  const rows = tokens.map((token) => /^([A-Z]{1,5}-)(\d{0,4}[A-Z]{0,3})(\d{12,20})$/.exec(token.text));
  const glued = rows.filter((row) => row !== null);
  if (glued.length < 3) return [...tokens];
  const lengths = firstLengths(glued);
  const modelDigits = new Set(
    glued.filter((row) => /[A-Z]$/.test(row[2] ?? "")).map((row) => (/^\d*/.exec(row[2] ?? "")?.[0] ?? "").length),
  );
  return tokens.flatMap((token, at) => {
    const row = rows[at];
    const cells = row ? cellsOf(row, lengths, modelDigits) : null;
    return cells ? partsOf(token, cells) : [token];
  });
}

/** How long the first serial number is in the rows whose model ends in letters, so that the digits after it are all serials. */
function firstLengths(rows: readonly RegExpExecArray[]): Set<number> {
  const lengths = new Set<number>();
  for (const [, , model = "", digits = ""] of rows) {
    if (/[A-Z]$/.test(model)) for (const cut of cutsOf(digits)) lengths.add(cut);
  }
  return lengths;
}

/** Cuts after which the second number is not below the first and both are seven or eight digits or so. */
function cutsOf(digits: string): number[] {
  const cuts: number[] = [];
  for (let cut = 6; cut <= digits.length - 6; cut++) {
    const apart = digits.length - cut - cut;
    if ((apart === 0 || apart === 1) && digits[cut] !== "0" && Number(digits.slice(cut)) >= Number(digits.slice(0, cut))) cuts.push(cut);
  }
  return cuts;
}

function cellsOf(
  [, head = "", model = "", digits = ""]: RegExpExecArray,
  lengths: ReadonlySet<number>,
  modelDigits: ReadonlySet<number>,
): string[] | null {
  const readings: string[][] = [];
  const whole = model + digits;
  const starts = /[A-Z]$/.test(model) ? [model.length] : [...modelDigits];
  for (const start of starts) {
    const serials = whole.slice(start);
    for (const cut of cutsOf(serials))
      if (lengths.has(cut)) readings.push([head + whole.slice(0, start), serials.slice(0, cut), serials.slice(cut)]);
  }
  return readings.length === 1 ? (readings[0] ?? null) : null;
}
