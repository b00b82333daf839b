import { type DayKind, isDayOf, isHourIn, localDay, localHour } from "./energy-hour";
import { kilowattHours } from "./energy-sum";

/** A price that holds in some hours; `fromHour` 22 to `toHour` 6 runs over midnight. */
export interface PriceWindow {
  readonly name: string;
  readonly price: number;
  readonly days: DayKind;
  readonly fromHour: number;
  readonly toHour: number;
}

/** Prices of a kilowatt-hour: `base` wherever no window holds; of several windows the first counts. */
export interface TariffPrices {
  readonly base: number;
  readonly windows: readonly PriceWindow[];
}

/** A tariff of a site; days of its calendar, both included, `validTo` null is open. */
export interface Tariff {
  readonly id: string;
  readonly name: string;
  /** ISO 4217 code. */
  readonly currency: string;
  readonly validFrom: string;
  readonly validTo: string | null;
  readonly prices: TariffPrices;
}

/** Energy at one price. */
export interface PricedEnergy {
  readonly tariff: string;
  readonly currency: string;
  readonly window: string;
  readonly price: number;
  readonly microjoules: bigint;
  readonly cost: number;
}

/** What energy cost: by price, by currency, and what no tariff covers. */
export interface EnergyCost {
  readonly lines: readonly PricedEnergy[];
  readonly totals: readonly { readonly currency: string; readonly cost: number }[];
  readonly unpriced: bigint;
}

/** The name of the price outside all windows. */
export const basePrice = "base";

/** The tariff of a day: of several that cover it the one that began last. */
export function tariffOn(tariffs: readonly Tariff[], day: string): Tariff | null {
  const valid = tariffs.filter(({ validFrom, validTo }) => validFrom <= day && (validTo === null || day <= validTo));
  return valid.reduce<Tariff | null>((best, one) => (best === null || one.validFrom > best.validFrom ? one : best), null);
}

/** The price of an hour of the site's clock. */
export function priceAt(prices: TariffPrices, zone: string | null, atMs: number): { readonly window: string; readonly price: number } {
  const { hour, weekday } = localHour(zone, atMs);
  const window = prices.windows.find((one) => isDayOf(one.days, weekday) && isHourIn(hour, one.fromHour, one.toHour));
  return window === undefined ? { window: basePrice, price: prices.base } : { window: window.name, price: window.price };
}

/** Prices booked hours. Energy is added up in whole microjoules for each price and multiplied once, so that no rounding adds up. */
export function costOf(
  hours: readonly { readonly atMs: number; readonly microjoules: bigint }[],
  tariffs: readonly Tariff[],
  zone: string | null,
): EnergyCost {
  const lines = new Map<string, Omit<PricedEnergy, "cost">>();
  let unpriced = 0n;
  for (const { atMs, microjoules } of hours) {
    const tariff = tariffOn(tariffs, localDay(zone, atMs));
    if (tariff === null) {
      unpriced += microjoules;
      continue;
    }
    const { window, price } = priceAt(tariff.prices, zone, atMs);
    const key = `${tariff.id} ${window} ${price}`;
    const line = lines.get(key) ?? { tariff: tariff.name, currency: tariff.currency, window, price, microjoules: 0n };
    lines.set(key, { ...line, microjoules: line.microjoules + microjoules });
  }
  const priced = [...lines.values()].map((line) => ({ ...line, cost: kilowattHours(line.microjoules) * line.price }));
  const currencies = [...new Set(priced.map(({ currency }) => currency))];
  const totals = currencies.map((currency) => ({
    currency,
    cost: priced.filter((line) => line.currency === currency).reduce((sum, { cost }) => sum + cost, 0),
  }));
  return { lines: priced, totals, unpriced };
}
