import type { KeptReading } from "@/lib/store/kept-log-queries";
import { type LogRowReader, makeLogRowReader } from "@/lib/watch/log-rows";
import type { Reading } from "@/lib/watch/reading";
import { setAsideReasons } from "@/lib/watch/set-aside";
import type { ArrivalOutlets, ArrivalSite } from "./arrival-outlets";
import type { LogFile, LogLine } from "./log-lines";
import { nameKey } from "./place-name";

/** Set-aside rows are told one by one up to this many; all are counted. */
export const toldRows = 50;

export interface ToldRow {
  readonly line: number;
  readonly reason: string;
}

/** A batch's rows, read and ready to be kept. */
export interface ArrivedRows {
  readonly rows: number;
  readonly readings: readonly KeptReading[];
  readonly setAside: readonly ToldRow[];
  readonly setAsideCount: number;
  /** Rows that are taken, but whose tag moves nothing. */
  readonly tags: readonly (ToldRow & { readonly tag: string })[];
  readonly tagCount: number;
}

export const arrivalReasons = {
  other_site: "The outlet belongs to another site than the key or topic: send it with that site's own.",
  disagrees: "The row names another organisation or site than the key or topic: nothing of it was taken.",
  unknown_tag: "No appliance of this organisation has this tag: the reading is kept, nothing was moved.",
  foreign_tag: "The tag belongs to an appliance of another site: the reading is kept, nothing was moved. Move the appliance by hand.",
  too_old: "The row is older than the time for which readings are kept one by one.",
} as const;

/** A text that came from outside, as it may be told and stored: without control characters, not too long. */
const told = (text: string, longest = 80) => text.replace(/[\p{Cc}\p{Cs}]+/gu, " ").slice(0, longest);

/** What a row says of its own organisation and site; empty where it says nothing. */
function homeReader(header: LogFile["header"]): (row: LogLine["row"]) => readonly [string, string] {
  const places = header === "jsonl" ? null : header.map((name) => name.trim().toLowerCase());
  const cell = (row: LogLine["row"], name: string): string => {
    const value: unknown = Array.isArray(row)
      ? row[places?.indexOf(name) ?? -1]
      : Object.hasOwn(row, name)
        ? (row as object as Record<string, unknown>)[name]
        : "";
    return typeof value === "string" ? value.trim() : "";
  };
  return (row) => [cell(row, "organisation"), cell(row, "site")];
}

/** The row names the site by its id or name, and the organisation by its id, or neither. */
function agrees([organisation, site]: readonly [string, string], home: ArrivalSite): boolean {
  return (
    (organisation === "" || organisation === home.organisationId) && (site === "" || site === home.id || nameKey(site) === home.nameKey)
  );
}

interface ReadLine {
  readonly line: number;
  readonly reading: Reading | null;
  readonly reason: string;
}

function readLine(line: LogLine, read: LogRowReader, doesAgree: boolean): ReadLine {
  if (line.problem !== null) return { line: line.line, reading: null, reason: line.problem };
  if (!doesAgree) return { line: line.line, reading: null, reason: arrivalReasons.disagrees };
  const row = read(line.row);
  return "setAside" in row
    ? { line: line.line, reading: null, reason: row.setAside }
    : { line: line.line, reading: row.reading, reason: "" };
}

class Gathering {
  rows = 0;
  readonly readings: KeptReading[] = [];
  readonly setAside: ToldRow[] = [];
  setAsideCount = 0;
  readonly tags: (ToldRow & { tag: string })[] = [];
  tagCount = 0;

  aside(line: number, reason: string): void {
    this.setAsideCount += 1;
    if (this.setAside.length < toldRows) this.setAside.push({ line, reason: told(reason, 240) });
  }

  tag(line: number, tag: string, reason: string): void {
    this.tagCount += 1;
    if (this.tags.length < toldRows) this.tags.push({ line, tag: told(tag), reason });
  }
}

export interface ArrivalReader {
  readonly outlets: ArrivalOutlets;
  readonly site: ArrivalSite;
  /** More rows than this refuse the batch as a whole. */
  readonly mostRows: number;
}

/** Reads the rows of an opened batch. Null when it has more rows than it may. */
export async function readArrivedRows(file: LogFile, { outlets, site, mostRows }: ArrivalReader): Promise<ArrivedRows | null> {
  const read = makeLogRowReader(file.header, () => site.timeZone);
  const homeOf = homeReader(file.header);
  const gathering = new Gathering();
  for await (const batch of file.batches) {
    gathering.rows += batch.length;
    if (gathering.rows > mostRows) return null;
    await take(
      batch.map((line) => readLine(line, read, agrees(homeOf(line.row), site))),
      { outlets, site, gathering },
    );
  }
  return gathering;
}

async function take(
  lines: readonly ReadLine[],
  { outlets, site, gathering }: Pick<ArrivalReader, "outlets" | "site"> & { readonly gathering: Gathering },
): Promise<void> {
  const readings = lines.flatMap(({ reading }) => reading ?? []);
  const { organisationId } = site;
  const outletOf = await outlets.outletsOf(organisationId, new Set(readings.map(({ outlet }) => outlet)));
  const siteOfTag = await outlets.sitesOfTags(organisationId, new Set(readings.flatMap(({ tag }) => tag ?? [])));
  for (const { line, reading, reason } of lines) {
    const outlet = reading === null ? null : outletOf(reading.outlet);
    if (reading === null) gathering.aside(line, reason);
    else if (outlet === null) gathering.aside(line, setAsideReasons.unknown_outlet);
    else if (outlet.siteId !== site.id) gathering.aside(line, arrivalReasons.other_site);
    else {
      const { outlet: _, ...measures } = reading;
      gathering.readings.push({ ...measures, outletId: outlet.id });
      if (reading.tag === null) continue;
      const tagSite = siteOfTag(reading.tag);
      if (tagSite === null) gathering.tag(line, reading.tag, arrivalReasons.unknown_tag);
      else if (tagSite !== site.id) gathering.tag(line, reading.tag, arrivalReasons.foreign_tag);
    }
  }
}
