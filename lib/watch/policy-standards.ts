import { type DeviationSetName, deviationSets } from "@/lib/electrical/deviation-sets";
import type { deviceModels } from "@/lib/electrical/device-curve";
import type { InstantBandName } from "@/lib/electrical/device-instant";
import { type PlugSystemName, plugSystems } from "@/lib/electrical/plug-systems";

/** The devices of a site: which curve and which instantaneous band hold for them. */
export const deviceChoices = {
  "UL 489": { words: "UL 489 moulded-case breakers (North America)", standard: "UL 489", band: "UL 489" },
  "IEC 60898-1 B": { words: "IEC 60898-1, type B", standard: "IEC 60898-1", band: "B" },
  "IEC 60898-1 C": { words: "IEC 60898-1, type C", standard: "IEC 60898-1", band: "C" },
  "IEC 60898-1 D": { words: "IEC 60898-1, type D", standard: "IEC 60898-1", band: "D" },
} as const satisfies Readonly<
  Record<string, { readonly words: string; readonly standard: keyof typeof deviceModels; readonly band: InstantBandName }>
>;
export type DeviceChoice = keyof typeof deviceChoices;

/** The sets of rules that a site goes by. */
export interface SiteStandards {
  readonly deviation: DeviationSetName;
  readonly device: DeviceChoice;
  readonly plugs: PlugSystemName;
}

/** What a site goes by unless it states otherwise: North American up to 127 V nominal or unknown, else IEC with 16 A plugs. */
export function defaultStandards(nominalVolts: number | null): SiteStandards {
  const isNorthAmerican = nominalVolts === null || nominalVolts <= 127;
  return {
    deviation: "IEC 60335-1, 5th edition",
    device: isNorthAmerican ? "UL 489" : "IEC 60898-1 B",
    plugs: isNorthAmerican ? "NEC 210.21(B)" : "CEE 7",
  };
}

const isIn = <T extends object>(table: T, name: unknown): name is keyof T => typeof name === "string" && Object.hasOwn(table, name);

/** The stated sets with the defaults for what is not stated or not known any more. */
export function standardsWith(stated: Readonly<Record<string, unknown>>, nominalVolts: number | null): SiteStandards {
  const usual = defaultStandards(nominalVolts);
  return {
    deviation: isIn(deviationSets, stated["deviation"]) ? stated["deviation"] : usual.deviation,
    device: isIn(deviceChoices, stated["device"]) ? stated["device"] : usual.device,
    plugs: isIn(plugSystems, stated["plugs"]) ? stated["plugs"] : usual.plugs,
  };
}
