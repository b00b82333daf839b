import type { EnergySplit, SplitEnergy } from "@/lib/store/energy-queries";
import type { energyNames } from "@/lib/store/tariff-queries";

/** By what a page splits energy. */
export const splitNames = ["unit", "circuit", "outlet", "appliance"] as const;
export type SplitName = (typeof splitNames)[number];

export const splitColumns: Readonly<Record<SplitName, EnergySplit>> = {
  unit: "unitId",
  circuit: "circuitId",
  outlet: "outletId",
  appliance: "applianceId",
};

/** One part of a sum with its name; `id` null is nobody or nowhere known. */
export interface NamedEnergy {
  readonly id: string | null;
  readonly name: string;
  readonly detail: string | null;
  readonly microjoules: bigint;
  readonly measuredMs: number;
  readonly gapMs: number;
}

type Names = Awaited<ReturnType<typeof energyNames>>;

const nobody: Readonly<Record<SplitName, string>> = {
  unit: "in no unit",
  circuit: "on no known circuit",
  outlet: "at no known outlet",
  appliance: "nobody known",
};

function nameOf(id: string, split: SplitName, names: Names): { readonly name: string; readonly detail: string | null } {
  if (split === "appliance") {
    const appliance = names.appliances.find((one) => one.id === id);
    const words = [appliance?.brand, appliance?.model].filter(Boolean).join(" ");
    return { name: appliance?.tag ?? "gone", detail: [appliance?.category, words].filter(Boolean).join(", ") || null };
  }
  const list = split === "unit" ? names.units : split === "circuit" ? names.circuits : names.outlets;
  return { name: list.find((one) => one.id === id)?.name ?? "gone", detail: null };
}

/** The parts of a sum with their names, the largest first; what nobody known used stands last. */
export function namedSplit(rows: readonly SplitEnergy[], split: SplitName, names: Names): NamedEnergy[] {
  return rows
    .map(({ id, ...sums }) =>
      id ? { id, ...nameOf(id, split, names), ...sums } : { id: null, name: nobody[split], detail: null, ...sums },
    )
    .sort(
      (a, b) =>
        Number(a.id === null) - Number(b.id === null) || (a.microjoules < b.microjoules ? 1 : a.microjoules > b.microjoules ? -1 : 0),
    );
}
