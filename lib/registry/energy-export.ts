import type { Actor } from "@/lib/access/actor";
import type { Db } from "@/lib/store/client";
import { findEnergyHours } from "@/lib/store/energy-queries";
import { energyNames, findMeters, findTariffs } from "@/lib/store/tariff-queries";
import { localDay } from "@/lib/watch/energy-hour";
import { kilowattHours } from "@/lib/watch/energy-sum";
import { priceAt, type Tariff, tariffOn } from "@/lib/watch/tariff";
import { endOfLocalDay } from "@/lib/watch/zone-time";
import { type EnergyQuery, type EnergyView, energyView, scopeOf } from "./energy-view";
import { tariffOf } from "./tariff";

/** One booked hour as it goes out. Empty where nothing is known; money with the price's own exactness. */
export interface EnergyExportRow {
  readonly at: string;
  readonly site: string;
  readonly unit: string | null;
  readonly circuit: string | null;
  readonly outlet: string | null;
  readonly receptacle: string;
  readonly tag: string | null;
  readonly kwh: number;
  readonly measured_s: number;
  readonly gap_s: number;
  readonly price: number | null;
  readonly currency: string | null;
  readonly cost: number | null;
}

/** The hours behind the energy page, a day at a time. Permission as for the page. */
export async function exportEnergy(db: Db, actor: Actor, query: EnergyQuery): Promise<AsyncGenerator<EnergyExportRow[]>> {
  const view = await energyView(db, actor, query);
  return hoursOf(db, actor, { query, view });
}

const rounded = (value: number, digits: number) => Math.round(value * 10 ** digits) / 10 ** digits;

async function* hoursOf(
  db: Db,
  actor: Actor,
  { query, view }: { readonly query: EnergyQuery; readonly view: EnergyView | null },
): AsyncGenerator<EnergyExportRow[]> {
  if (view === null) return;
  const { site, zone, period } = view;
  const home = { organisationId: actor.organisationId, siteId: site.id };
  const [meters, tariffs] = [await findMeters(db, home), (await findTariffs(db, home)).map(tariffOf)];
  const scope = scopeOf(
    actor,
    site.id,
    query,
    meters.map(({ outletId }) => outletId),
  );
  for (let from = period.fromMs; from < period.toMs; from = endOfLocalDay(zone, from)) {
    const rows = await findEnergyHours(db, scope, from, endOfLocalDay(zone, from));
    const names = await energyNames(db, site.id, [...new Set(rows.flatMap(({ applianceId }) => applianceId || []))]);
    const named = (list: readonly { id: string; name: string }[], id: string | null) => list.find((one) => one.id === id)?.name ?? null;
    yield rows.map((row) => ({
      at: new Date(row.atMs).toISOString(),
      site: site.name,
      unit: named(names.units, row.unitId),
      circuit: named(names.circuits, row.circuitId),
      outlet: named(names.outlets, row.outletId),
      receptacle: row.receptacle,
      tag: names.appliances.find(({ id }) => id === row.applianceId)?.tag ?? null,
      kwh: rounded(kilowattHours(row.microjoules), 6),
      measured_s: row.measuredMs / 1000,
      gap_s: row.gapMs / 1000,
      ...priced(row, tariffs, zone),
    }));
  }
}

function priced(row: { readonly atMs: number; readonly microjoules: bigint }, tariffs: readonly Tariff[], zone: string) {
  const tariff = tariffOn(tariffs, localDay(zone, row.atMs));
  if (tariff === null) return { price: null, currency: null, cost: null };
  const { price } = priceAt(tariff.prices, zone, row.atMs);
  return { price, currency: tariff.currency, cost: rounded(kilowattHours(row.microjoules) * price, 6) };
}
