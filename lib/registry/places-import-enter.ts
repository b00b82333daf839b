import { newId } from "@/lib/store/ids";
import type { CircuitHead, OutletHead, SiteHead, UnitHead } from "@/lib/store/place-import-queries";
import { nameKey } from "./place-name";
import type { PlaceRow } from "./place-row";
import { type BookEntry, inSite, type PlaceBook, type Shelf } from "./places-import-book";

/** What this file has said of a place's figures so far, by place: another word for the same figure is a contradiction. */
export type SaidFigures = Map<string, { readonly value: number | string; readonly line: number }>;

export interface EnteredRow {
  readonly row: PlaceRow;
  readonly line: number;
}

type Figure = readonly [kind: string, key: string, column: string, value: number | string | null];

function figuresOf(row: PlaceRow): Figure[] {
  const site = nameKey(row.site ?? "");
  const circuit = row.circuit === null ? null : `${site} ${nameKey(row.circuit)}`;
  const outlet = row.outlet === null ? null : nameKey(row.outlet);
  return [
    ["site", site, "time_zone", row.timeZone],
    ...(circuit === null
      ? []
      : ([
          [`circuit ${row.circuit}`, circuit, "device_amps", row.deviceAmps],
          [`circuit ${row.circuit}`, circuit, "volts", row.volts],
          [`circuit ${row.circuit}`, circuit, "leg", row.leg],
        ] as const)),
    ...(outlet === null
      ? []
      : ([
          [`outlet ${row.outlet}`, outlet, "outlet_amps", row.outletAmps],
          [`outlet ${row.outlet}`, outlet, "receptacles", row.receptacles],
          [`outlet ${row.outlet}`, outlet, "circuit", row.circuit],
          [`outlet ${row.outlet}`, outlet, "unit", row.unit],
          [`outlet ${row.outlet}`, outlet, "site", row.site],
        ] as const)),
  ];
}

const nameColumns = new Set(["circuit", "unit", "site"]);

function isSame(column: string, a: number | string, b: number | string): boolean {
  return nameColumns.has(column) ? nameKey(String(a)) === nameKey(String(b)) : a === b;
}

/** Why a row contradicts an earlier row of the same file, or null; a row without contradiction is remembered. */
export function contradiction({ row, line }: EnteredRow, said: SaidFigures): string | null {
  const figures = figuresOf(row).filter((figure): figure is readonly [string, string, string, number | string] => figure[3] !== null);
  for (const [kind, key, column, value] of figures) {
    const earlier = said.get(`${column}|${key}`);
    if (earlier && !isSame(column, earlier.value, value)) {
      return `${column}: the ${kind} has ${earlier.value} on line ${earlier.line} and ${value} here; one of them must be wrong.`;
    }
  }
  for (const [, key, column, value] of figures) if (!said.has(`${column}|${key}`)) said.set(`${column}|${key}`, { value, line });
  return null;
}

/** Why a row cannot be placed at all, or null. */
export function incomplete(row: PlaceRow): string | null {
  if (row.site === null) return "site: the row does not say at which site it is; name it.";
  if (row.circuit === null && (row.deviceAmps !== null || row.leg !== null))
    return "circuit: the row gives a device rating or a leg but names no circuit.";
  if (row.outlet === null && (row.outletAmps !== null || row.receptacles !== null))
    return "outlet: the row gives an outlet's rating or receptacles but names no outlet.";
  return null;
}

/** Why a known outlet cannot be the one meant, or null: names are given once in an organisation. */
export function elsewhere(row: PlaceRow, book: PlaceBook): string | null {
  const outlet = row.outlet === null ? undefined : book.outlets.get(nameKey(row.outlet));
  if (!outlet || outlet.head.siteId === book.sites.get(nameKey(row.site ?? ""))?.head.id) return null;
  return `outlet: ${outlet.head.name} is at another site already; outlet names are given once in an organisation.`;
}

function find<T>(shelf: Shelf<T>, key: string, make: () => T): BookEntry<T> {
  const known = shelf.get(key);
  if (known) return known;
  const entry: BookEntry<T> = { head: make(), isNew: true, isChanged: false };
  shelf.set(key, entry);
  return entry;
}

/** Takes what a row says into a place; an empty cell never erases. True when something is new. */
function take<T extends object>(entry: BookEntry<T>, said: Partial<{ [K in keyof T]: T[K] | null }>): boolean {
  const news = Object.entries(said).filter(
    ([name, value]) => value !== null && value !== undefined && entry.head[name as keyof T] !== value,
  );
  if (news.length === 0) return false;
  entry.head = { ...entry.head, ...Object.fromEntries(news) };
  if (!entry.isNew) entry.isChanged = true;
  return true;
}

/** Enters a row into the book: makes what is not there, completes what is. The row counts as created when anything is made. */
export function enterRow(row: PlaceRow, book: PlaceBook): "created" | "updated" | "unchanged" {
  const before = book.sites.size + book.units.size + book.circuits.size + book.outlets.size;
  const siteName = row.site ?? "";
  const site = find<SiteHead>(book.sites, nameKey(siteName), () => {
    return { id: newId(), name: siteName, nameKey: nameKey(siteName), timeZone: row.timeZone, nominalVolts: null };
  });
  let changed = take(site, { timeZone: row.timeZone });
  const siteId = site.head.id;
  const unit = row.unit === null ? null : findUnit(book, siteId, row.unit);
  const circuit = row.circuit === null ? null : findCircuit(book, siteId, row.circuit, unit?.head.id ?? null);
  if (circuit) changed = take(circuit, { deviceAmps: row.deviceAmps, volts: row.volts, leg: row.leg }) || changed;
  if (row.outlet !== null) {
    const outlet = findOutlet(book, siteId, row.outlet);
    const said = {
      unitId: unit?.head.id ?? null,
      circuitId: circuit?.head.id ?? null,
      outletAmps: row.outletAmps,
      receptacles: row.receptacles,
    };
    changed = take(outlet, said) || changed;
  }
  const after = book.sites.size + book.units.size + book.circuits.size + book.outlets.size;
  return after > before ? "created" : changed ? "updated" : "unchanged";
}

function findUnit(book: PlaceBook, siteId: string, name: string): BookEntry<UnitHead> {
  return find(book.units, inSite(siteId, name), () => ({ id: newId(), siteId, name, nameKey: nameKey(name) }));
}

/** A circuit keeps the unit of its first row: one that feeds several units is named on rows of each. */
function findCircuit(book: PlaceBook, siteId: string, name: string, unitId: string | null): BookEntry<CircuitHead> {
  const blank = { unitId, deviceAmps: null, volts: null, leg: null };
  return find(book.circuits, inSite(siteId, name), () => ({ id: newId(), siteId, name, nameKey: nameKey(name), ...blank }));
}

function findOutlet(book: PlaceBook, siteId: string, name: string): BookEntry<OutletHead> {
  const blank = { unitId: null, circuitId: null, outletAmps: null, receptacles: 2 };
  return find(book.outlets, nameKey(name), () => ({ id: newId(), siteId, name, nameKey: nameKey(name), ...blank }));
}
