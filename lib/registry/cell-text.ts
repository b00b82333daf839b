/** A cell's trouble. `mended` is what stands instead where a rule mends it; without it the cell cannot be read. */
export interface CellProblem<Column extends string = string> {
  readonly column: Column;
  readonly problem: string;
  readonly mended?: string;
}

/** What a cell reads as: a value, a mended value with the reason, or a problem. Null is empty. */
export type CellReading =
  | { readonly value: string | null }
  | { readonly value: string; readonly mended: string }
  | { readonly value: null; readonly problem: string };

/** Words that spreadsheets hold where nothing is known. */
const unknownWords =
  /^(?:n\/?a|none|null|nil|unknown|unk|tbd|\?+|-+|—|–|\.|illegible|unreadable|not (?:known|legible|readable|read|visible)|can(?:not|'t) (?:be )?read|worn(?: off)?)$/i;
const longestUnknown = 14;

/** A cell without surrounding blanks; null when empty. */
export function plainCell(cell: string | undefined): string | null {
  if (cell === undefined || cell === "") return null;
  const text = cell.trim();
  return text === "" ? null : text;
}

/** True for words such as `n/a` and `unknown`, which mean an empty cell. */
export function saysUnknown(text: string): boolean {
  return text.length <= longestUnknown && unknownWords.test(text);
}

const fieldName = {
  model: /^(?:model|mod\.?|m\/n)(?:\s*(?:no|nr|number|#))?[\s.:#]+(?=\S{3})(?=\S*\d)/i,
  serial: /^(?:serial|ser\.?|s\/n|sn)(?:\s*(?:no|nr|number|#))?[\s.:#]+(?=\S{3})(?=\S*\d)/i,
} as const;

/** A code without its field's own name before it: `S/N: 27S9981` in the column of serial numbers is `27S9981`. */
export function withoutFieldName(text: string, field: keyof typeof fieldName): CellReading {
  const value = text.replace(fieldName[field], "");
  return value === text ? { value } : { value, mended: `read as ${value}` };
}

/** A figure with an optional unit, such as `1500`, `1,500 W`, `1.5 kW` or `12,5`; `unit` is the column's own. */
export function readFigure(text: string, unit: "W" | "A" | "V"): CellReading {
  const found = /^(?:max\.?\s*)?([\d.,]+)\s*(k|m)?\s*([a-z]*)\.?(?:~|\s*(?:ac|dc))?$/i.exec(text);
  const words: Readonly<Record<string, RegExp>> = { W: /^(?:w|watts?)?$/i, A: /^(?:a|amps?|amperes?)?$/i, V: /^(?:v|volts?|vac|vdc)?$/i };
  const figure = found?.[1] === undefined ? null : plainNumber(found[1]);
  if (!found || figure === null || !words[unit]?.test(found[3] ?? "")) {
    return { value: null, problem: `"${text}" is no figure in ${unit}: write it like 1500 or 12.5.` };
  }
  const scale = found[2] === undefined ? 1 : found[2].toLowerCase() === "k" ? 1000 : 0.001;
  const value = String(Math.round(figure * scale * 1e6) / 1e6);
  if (Number(value) <= 0) return { value: null, problem: `"${text}" is not above zero: leave the cell empty where it is unknown.` };
  return value === text ? { value } : { value, mended: `read as ${value} ${unit}` };
}

/** `1,500` is a thousand and a half, `12,5` twelve and a half; null when the marks make no sense. */
function plainNumber(text: string): number | null {
  if (/^\d+(?:\.\d+)?$/.test(text)) return Number(text);
  if (/^\d{1,3}(?:,\d{3})+(?:\.\d+)?$/.test(text)) return Number(text.replaceAll(",", ""));
  return /^\d+,\d{1,2}$/.test(text) ? Number(text.replace(",", ".")) : null;
}
