import type { SeedAppliance } from "./labels";

const dayMs = 86_400_000;
const hourMs = 3_600_000;

/** Two dwellings whose metered outlets tell every minute, so that whole days of energy can be compared, priced and limited. */
export const followedSite = "Alder House";
export const followedUnits = ["0304", "0401"] as const;
export const followedIdleMs = 60_000;

export function isFollowedClosely({ place }: SeedAppliance): boolean {
  return place.site === followedSite && (followedUnits as readonly string[]).includes(place.unit);
}

/** From this day of the log on the seal of the first dwelling's refrigerator no longer closes: it draws no more, but runs far longer. */
const longerFromDay = 21;

/** How many times as long as before an appliance runs on a day of the log. */
export function lengthFactor(appliance: SeedAppliance, day: number): number {
  const isWorn = isFollowedClosely(appliance) && appliance.family.category === "refrigerator";
  return isWorn && day >= longerFromDay ? 1.9 : 1;
}

/** The hours, on the third day before the log ends, in which the utility asked for less. */
export function demandStretch(endMs: number): { readonly fromMs: number; readonly toMs: number } {
  const startMs = endMs - 3 * dayMs;
  return { fromMs: startMs + 17 * hourMs, toMs: startMs + 20 * hourMs };
}

/** When nothing of an appliance runs, because less was asked for: the second dwelling's heater makes way. */
export function offStretch(appliance: SeedAppliance, endMs: number): ReturnType<typeof demandStretch> | undefined {
  return isFollowedClosely(appliance) && /heater/.test(appliance.family.category) ? demandStretch(endMs) : undefined;
}
