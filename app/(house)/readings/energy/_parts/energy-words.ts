import type { EnergyQuery } from "@/lib/registry/energy-view";
import { kilowattHours } from "@/lib/watch/energy-sum";

/** Kilowatt-hours as they are shown: more decimals where there is little. */
export function kwhWords(value: number): string {
  const digits = Math.abs(value) >= 100 ? 1 : Math.abs(value) >= 1 ? 2 : 3;
  return new Intl.NumberFormat("en", { minimumFractionDigits: digits, maximumFractionDigits: digits }).format(value);
}

export function microjouleWords(microjoules: bigint): string {
  return kwhWords(kilowattHours(microjoules));
}

/** A length of receptacle time: `3 d 4 h`, `2 h 20 min`, `40 s`, `none`. */
export function timeLength(ms: number): string {
  const seconds = Math.round(ms / 1000);
  if (seconds === 0) return "none";
  if (seconds < 60) return `${seconds} s`;
  const minutes = Math.round(seconds / 60);
  const [days, hours, rest] = [Math.floor(minutes / 1440), Math.floor((minutes % 1440) / 60), minutes % 60];
  if (days > 0) return hours > 0 ? `${days} d ${hours} h` : `${days} d`;
  return [hours > 0 ? `${hours} h` : "", rest > 0 ? `${rest} min` : ""].filter(Boolean).join(" ");
}

/** An amount of money: `USD 7.20`. */
export function money(currency: string, amount: number): string {
  return `${currency} ${new Intl.NumberFormat("en", { minimumFractionDigits: 2, maximumFractionDigits: 2 }).format(amount)}`;
}

export function percent(share: number): string {
  return `${Math.round(share * 1000) / 10} %`;
}

/** A day in words: `Mon 2 Mar`. */
export function dayWords(zone: string, atMs: number): string {
  return new Intl.DateTimeFormat("en-GB", { weekday: "short", day: "numeric", month: "short", timeZone: zone }).format(atMs);
}

/** The page's address with some parts changed; `undefined` takes a part off. */
export function energyHref(
  query: EnergyQuery,
  changes: { readonly [K in keyof EnergyQuery]?: EnergyQuery[K] | undefined } = {},
  path = "/readings/energy",
): string {
  const entries = Object.entries({ ...query, ...changes }).filter(([, value]) => value !== undefined && value !== "");
  const text = new URLSearchParams(entries.map(([name, value]) => [name, String(value)])).toString();
  return `${path}${text === "" ? "" : `?${text}`}`;
}
