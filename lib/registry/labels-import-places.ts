import type { Actor } from "@/lib/access/actor";
import type { Db } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import {
  findOutletsByName,
  findSitesByName,
  findUnitsByName,
  insertOutlets,
  insertSites,
  insertUnits,
  type OutletHead,
  type SiteHead,
  type UnitHead,
} from "@/lib/store/place-import-queries";
import type { Supply } from "./appliance-columns";
import type { LabelRow } from "./label-row";
import { nameKey } from "./place-name";
import { supplyOfSite } from "./site-policy";

/** A row's place in ids, or why it cannot be meant. */
export type ResolvedPlace =
  | { readonly siteId: string; readonly supply: Supply; readonly unitId: string | null; readonly outletId: string | null }
  | { readonly reason: string };

type PlaceCells = Pick<LabelRow, "site" | "unit" | "outlet">;

const unitPlace = (siteId: string, unitKey: string) => `${siteId} ${unitKey}`;
const missing = <T>(cache: ReadonlyMap<string, T>, keys: Iterable<string>): string[] => [...new Set(keys)].filter((key) => !cache.has(key));

const said = (count: number, noun: string) =>
  count === 1 ? `1 ${noun} was not known and was` : `${count} ${noun}s were not known and were`;

function named(names: readonly string[]): string {
  return names.slice(0, 5).join(", ") + (names.length > 5 ? " and others" : "");
}

/** Sites, units and outlets as a labels file names them: known ones are found, unknown ones made. Kept for the length of one import. */
export class LabelPlaces {
  private readonly sites = new Map<string, SiteHead>();
  private readonly supplies = new Map<string, Supply>();
  private readonly units = new Map<string, UnitHead>();
  private readonly outlets = new Map<string, OutletHead>();
  private readonly siteNames = new Map<string, string>();
  private readonly made = { sites: [] as string[], units: 0, outlets: [] as string[] };

  constructor(private readonly actor: Actor) {}

  /** Sentences on what had to be made. */
  remarks(): string[] {
    const { sites, units, outlets } = this.made;
    return [
      ...(sites.length === 0 ? [] : [`${said(sites.length, "site")} made: ${named(sites)}.`]),
      ...(units === 0 ? [] : [`${said(units, "unit")} made.`]),
      ...(outlets.length === 0
        ? []
        : [`${said(outlets.length, "outlet")} made without a rating: ${named(outlets)}. Bring in a places file to complete that.`]),
    ];
  }

  /** Finds or makes the places of a chunk's rows; afterwards `resolve` answers for each. */
  async prepare(tx: Db, rows: readonly PlaceCells[], now: Date): Promise<void> {
    await this.prepareSites(tx, rows, now);
    const allowed = rows.filter((row) => this.refusal(row) === null);
    await this.prepareUnits(tx, allowed, now);
    await this.prepareOutlets(tx, allowed, now);
  }

  /** The place of a row in ids. A known outlet that stands elsewhere than the row says is a contradiction. */
  resolve(row: PlaceCells): ResolvedPlace {
    const refusal = this.refusal(row);
    if (refusal !== null) return { reason: refusal };
    const site = this.siteOf(row);
    if (!site) throw new Error(`The site "${row.site}" was not prepared.`);
    const unit = row.unit === null ? null : this.units.get(unitPlace(site.id, nameKey(row.unit)));
    const place = { siteId: site.id, supply: this.supplies.get(site.id) ?? site.nominalVolts, unitId: unit?.id ?? null };
    if (row.outlet === null) return { ...place, outletId: null };
    const outlet = this.outlets.get(nameKey(row.outlet));
    if (!outlet) throw new Error(`The outlet "${row.outlet}" was not prepared.`);
    if (outlet.siteId !== site.id)
      return { reason: `outlet: ${outlet.name} is at another site than ${site.name}; outlet names are given once.` };
    if (unit && outlet.unitId !== null && outlet.unitId !== unit.id) {
      return { reason: `outlet: ${outlet.name} is in another unit than ${row.unit}; correct the unit or the outlet.` };
    }
    return { ...place, unitId: place.unitId ?? outlet.unitId, outletId: outlet.id };
  }

  private siteOf(row: PlaceCells): SiteHead | undefined {
    return this.sites.get(nameKey(row.site ?? ""));
  }

  private refusal(row: PlaceCells): string | null {
    if (this.actor.siteIds === "all") return null;
    const site = this.siteOf(row);
    if (site && this.actor.siteIds.includes(site.id)) return null;
    return `site: "${row.site}" is not one of your sites; ask an administrator to add it to your account.`;
  }

  private async prepareSites(tx: Db, rows: readonly PlaceCells[], now: Date): Promise<void> {
    const { organisationId } = this.actor;
    for (const { site } of rows) if (site !== null && !this.siteNames.has(nameKey(site))) this.siteNames.set(nameKey(site), site);
    const keys = missing(
      this.sites,
      rows.map((row) => nameKey(row.site ?? "")),
    );
    if (keys.length === 0) return;
    const keep = async (found: readonly SiteHead[]) => {
      for (const site of found) {
        this.sites.set(site.nameKey, site);
        this.supplies.set(site.id, await supplyOfSite(tx, site));
      }
    };
    await keep(await findSitesByName(tx, organisationId, keys));
    const unknown = keys.filter((key) => !this.sites.has(key));
    if (unknown.length === 0 || this.actor.siteIds !== "all") return;
    const fresh = unknown.map((key) => ({
      id: newId(),
      name: this.siteNames.get(key) ?? key,
      nameKey: key,
      timeZone: null,
      nominalVolts: null,
    }));
    await insertSites(tx, organisationId, fresh, now);
    await keep(await findSitesByName(tx, organisationId, unknown));
    this.made.sites.push(...fresh.map((site) => site.name));
  }

  private async prepareUnits(tx: Db, rows: readonly PlaceCells[], now: Date): Promise<void> {
    const { organisationId } = this.actor;
    const wanted = new Map<string, { siteId: string; name: string; nameKey: string }>();
    for (const row of rows) {
      const siteId = this.siteOf(row)?.id;
      if (row.unit === null || siteId === undefined) continue;
      const key = nameKey(row.unit);
      const place = unitPlace(siteId, key);
      if (!this.units.has(place) && !wanted.has(place)) wanted.set(place, { siteId, name: row.unit, nameKey: key });
    }
    if (wanted.size === 0) return;
    const list = [...wanted.values()];
    const read = async () => {
      const found = await findUnitsByName(
        tx,
        organisationId,
        [...new Set(list.map((unit) => unit.siteId))],
        [...new Set(list.map((unit) => unit.nameKey))],
      );
      for (const unit of found) this.units.set(unitPlace(unit.siteId, unit.nameKey), unit);
    };
    await read();
    const fresh = list.filter((unit) => !this.units.has(unitPlace(unit.siteId, unit.nameKey)));
    if (fresh.length === 0) return;
    await insertUnits(
      tx,
      organisationId,
      fresh.map((unit) => ({ id: newId(), ...unit })),
      now,
    );
    await read();
    this.made.units += fresh.length;
  }

  private async prepareOutlets(tx: Db, rows: readonly PlaceCells[], now: Date): Promise<void> {
    const { organisationId } = this.actor;
    const wanted = new Map<string, PlaceCells>();
    for (const row of rows) {
      const key = nameKey(row.outlet ?? "");
      if (key !== "" && !this.outlets.has(key) && !wanted.has(key)) wanted.set(key, row);
    }
    if (wanted.size === 0) return;
    const read = async () => {
      for (const outlet of await findOutletsByName(tx, organisationId, [...wanted.keys()])) this.outlets.set(outlet.nameKey, outlet);
    };
    await read();
    const fresh = [...wanted].filter(([key]) => !this.outlets.has(key)).map(([key, row]) => this.newOutlet(key, row));
    if (fresh.length === 0) return;
    await insertOutlets(tx, organisationId, fresh, now);
    await read();
    this.made.outlets.push(...fresh.map((outlet) => outlet.name));
  }

  private newOutlet(key: string, row: PlaceCells): OutletHead {
    const siteId = this.siteOf(row)?.id ?? "";
    const unitId = row.unit === null ? null : (this.units.get(unitPlace(siteId, nameKey(row.unit)))?.id ?? null);
    return { id: newId(), siteId, unitId, circuitId: null, name: row.outlet ?? key, nameKey: key, outletAmps: null, receptacles: 2 };
  }
}
