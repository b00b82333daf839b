import type { FilterChip } from "@/app/_ui/filter-bar";
import type { ApplianceQuery } from "@/lib/registry/appliance-list";
import { absentAfterDays } from "@/lib/registry/appliance-list";
import { listHref } from "./address";

export const signalOptions = {
  any: "any open finding",
  DANGER: "DANGER",
  WARNING: "WARNING",
  CAUTION: "CAUTION",
  NOTICE: "NOTICE",
} as const;
export const standsOptions = { over: "above what it may", near: "above 80 % of it", no_readings: "no readings" } as const;
export const plateOptions = { unread: "no rating read", contradiction: "contradicts itself" } as const;
export const stateOptions = { in_use: "in use", out_of_use: "out of use", retired: "retired" } as const;
export const recallOptions = { covered: "covered", likely: "likely", check_label: "check the label" } as const;
export const absentWords = `not seen for ${absentAfterDays} days`;

interface Names {
  readonly site: string | null;
  readonly unit: string | null;
}

/** What is on, in words, each with the address that takes it off. */
export function filterChips(query: ApplianceQuery, names: Names): FilterChip[] {
  const { q, kind, maker, model, state, signal, recall, stands, plate, absent } = query;
  const words: [keyof ApplianceQuery, string | null][] = [
    ["q", q ? `“${q}”` : null],
    ["site", query.site ? `site ${names.site ?? "not known"}` : null],
    ["unit", query.unit ? `unit ${names.unit ?? "not known"}` : null],
    ["kind", kind ?? null],
    ["maker", maker ? `maker ${maker}` : null],
    ["model", model ? `model ${model}` : null],
    ["state", state ? stateOptions[state] : null],
    ["signal", signal ? `finding: ${signalOptions[signal]}` : null],
    ["recall", recall ? `recall: ${recallOptions[recall]}` : null],
    ["stands", stands ? `seen: ${standsOptions[stands]}` : null],
    ["plate", plate ? `plate: ${plateOptions[plate]}` : null],
    ["absent", absent ? absentWords : null],
  ];
  return words.flatMap(([name, label]) => (label === null ? [] : [{ label, offHref: listHref(query, { [name]: undefined }) }]));
}
