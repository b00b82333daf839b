import type { Db } from "@/lib/store/client";
import {
  type CircuitHead,
  findCircuitsByName,
  findOutletsByName,
  findSitesByName,
  findUnitsByName,
  type OutletHead,
  type SiteHead,
  type UnitHead,
} from "@/lib/store/place-import-queries";
import { nameKey } from "./place-name";
import type { PlaceRow } from "./place-row";

/** A place of the book: as it stands in the registry or will, and whether it is new or changed. */
export interface BookEntry<T> {
  head: T;
  readonly isNew: boolean;
  isChanged: boolean;
}

export type Shelf<T> = Map<string, BookEntry<T>>;

/** Key of a place within its site. */
export const inSite = (siteId: string, name: string) => `${siteId} ${nameKey(name)}`;

const keysOf = (rows: readonly PlaceRow[], field: "site" | "unit" | "circuit" | "outlet"): string[] => [
  ...new Set(rows.flatMap((row) => (row[field] === null ? [] : [nameKey(row[field])]))),
];

const known = <T>(head: T): BookEntry<T> => ({ head, isNew: false, isChanged: false });

/** The places that a chunk's rows name, as the registry has them; the rows are then entered one by one. */
export class PlaceBook {
  readonly sites: Shelf<SiteHead> = new Map();
  readonly units: Shelf<UnitHead> = new Map();
  readonly circuits: Shelf<CircuitHead> = new Map();
  readonly outlets: Shelf<OutletHead> = new Map();

  /** Reads what the registry has of the places that the rows name. */
  static async open(tx: Db, organisationId: string, rows: readonly PlaceRow[]): Promise<PlaceBook> {
    const book = new PlaceBook();
    for (const site of await findSitesByName(tx, organisationId, keysOf(rows, "site"))) book.sites.set(site.nameKey, known(site));
    const siteIds = [...book.sites.values()].map((site) => site.head.id);
    const units = siteIds.length === 0 ? [] : await findUnitsByName(tx, organisationId, siteIds, keysOf(rows, "unit"));
    for (const unit of units) book.units.set(inSite(unit.siteId, unit.name), known(unit));
    const circuits = siteIds.length === 0 ? [] : await findCircuitsByName(tx, organisationId, siteIds, keysOf(rows, "circuit"));
    for (const circuit of circuits) book.circuits.set(inSite(circuit.siteId, circuit.name), known(circuit));
    for (const outlet of await findOutletsByName(tx, organisationId, keysOf(rows, "outlet")))
      book.outlets.set(outlet.nameKey, known(outlet));
    return book;
  }
}
