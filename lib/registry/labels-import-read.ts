import { isOwnTag, tagKey } from "@/lib/identity/tag-code";
import { filledFacts, type LabelFacts } from "./appliance-columns";
import type { CsvRow } from "./csv-source";
import { type LabelMapping, type LabelRow, labelCellsReader, type ReadLabelRow } from "./label-row";
import { nameKey, receptacleKey } from "./place-name";
import { contentRowKey, rowHash } from "./same-row";

/** A row of a labels file, read as far as it can be without the database. */
export interface ReadLabel {
  readonly source: CsvRow;
  readonly row: LabelRow;
  /** What the row says, for telling later whether another says anything new. */
  readonly hash: string;
  /** Null where the row has no tag. */
  readonly tagKey: string | null;
  readonly isOwnTag: boolean;
  readonly facts: LabelFacts;
  /** For a row with neither tag nor serial: its content, and the how-manieth of that content it is. */
  readonly contentKey: string | null;
  readonly ordinal: number | null;
  /** Line of an earlier row of this file that means the same appliance; null for the first. */
  readonly earlierLine: number | null;
}

export type LabelReading = { readonly read: ReadLabel } | { readonly source: CsvRow; readonly reason: string };

const numberOf = (text: string | null): number | null => (text === null ? null : Number(text));

function factsOf(row: LabelRow): LabelFacts {
  const { category, brand, model, serial, made, dateCode, ratedVolts, ratedHertz, labelText } = row;
  const { protectionClass, maxLampWatts, mark, upc, owner, notes } = row;
  // One literal, not spread from two: it is made for every row.
  return filledFacts({
    category,
    brand,
    model,
    serial,
    made,
    dateCode,
    ratedVolts,
    ratedHertz,
    ratedWatts: numberOf(row.ratedWatts),
    ratedAmps: numberOf(row.ratedAmps),
    labelText,
    protectionClass,
    maxLampWatts,
    mark,
    upc,
    owner,
    notes,
  });
}

/** Why the row cannot come in, or null. A cell that a rule mends is no reason. */
function reasonAgainst(source: CsvRow, { row, problems }: ReadLabelRow, leaveOut: boolean): string | null {
  if (source.problem !== null) return source.problem;
  const broken = problems.filter((problem) => problem.mended === undefined && !(leaveOut && problem.column !== "tag"));
  if (broken.length > 0) return broken.map(({ column, problem }) => `${column}: ${problem}`).join(" ");
  if (row.site === null) return "site: the row does not say at which site the appliance is; name it.";
  if (row.tag !== null && tagKey(row.tag) === "") return `tag: "${row.tag}" has neither letters nor digits; leave it empty for a new tag.`;
  return null;
}

/** Cells that were left out because they cannot be read stay in the notes, so that their words are not lost. */
function withLeftOut(source: CsvRow, { row, problems }: ReadLabelRow, headerOf: ReadonlyMap<string, string>): LabelRow {
  const left = problems.flatMap(({ column, mended }) => {
    const header = headerOf.get(column);
    return mended !== undefined || header === undefined ? [] : [`${column} not read: ${source.record[header] ?? ""}`];
  });
  return left.length === 0 ? row : { ...row, notes: [...(row.notes === null ? [] : [row.notes]), ...left].join("\n") };
}

/** What makes two untagged rows of one file the same appliance. */
function serialText(row: LabelRow, { brand, model, serial }: LabelFacts): string {
  return [row.site, row.unit, brand, model, serial].map((part) => nameKey(part ?? "")).join("|");
}

/** Reads rows of one file in order; equal rows without tag and serial are counted through the whole file. */
export function makeLabelReader(headers: readonly string[], mapping: LabelMapping, unreadableCells: "set_aside" | "leave_out") {
  const read = labelCellsReader(headers, mapping);
  const headerOf = new Map(
    Object.entries(mapping).flatMap(([header, target]) => (target === null ? [] : [[target as string, header] as const])),
  );
  const seen = new Map<string, number>();
  const lineOf = new Map<string, number>();
  const earlier = (key: string, line: number): number | null => {
    const known = lineOf.get(key);
    if (known === undefined) lineOf.set(key, line);
    return known ?? null;
  };
  return (source: CsvRow): LabelReading => {
    const reading = read(source.cells);
    const reason = reasonAgainst(source, reading, unreadableCells === "leave_out");
    if (reason !== null) return { source, reason };
    const named = reading.problems.length === 0 ? reading.row : withLeftOut(source, reading, headerOf);
    const row = named.receptacle === null ? named : { ...named, receptacle: receptacleKey(named.receptacle) };
    const facts = factsOf(row);
    const hash = rowHash(row);
    const counts = row.tag === null && facts.serial === null;
    const contentKey = counts ? contentRowKey(hash) : null;
    const ordinal = contentKey === null ? null : (seen.get(hash) ?? 0) + 1;
    if (ordinal !== null) seen.set(hash, ordinal);
    const own = row.tag !== null && isOwnTag(row.tag);
    const key = row.tag === null ? null : tagKey(row.tag);
    const earlierLine = contentKey === null ? earlier(key ?? serialText(row, facts), source.line) : null;
    return { read: { source, row, hash, tagKey: key, isOwnTag: own, facts, contentKey, ordinal, earlierLine } };
  };
}
