import { Button } from "@/app/_ui/button";
import { NamedOptions, SelectField, TextField } from "@/app/_ui/field";
import { FilterBar, FilterChips } from "@/app/_ui/filter-bar";
import type { EnergyQuery, EnergyView } from "@/lib/registry/energy-view";
import { energyHref } from "./energy-words";

interface Named {
  readonly id: string;
  readonly name: string;
}

function Options({ list, none }: { list: readonly Named[]; none: string }) {
  return (
    <>
      <option value="">{none}</option>
      <NamedOptions list={list} />
    </>
  );
}

/** Which energy is shown: of what, over which days, by what it is split. */
export function EnergyFilter({ view, query }: { view: EnergyView; query: EnergyQuery }) {
  const { site, sites, names, period, step, split } = view;
  const off = (part: Partial<Record<keyof EnergyQuery, undefined>>) => energyHref(query, part);
  const chips = [
    ...(query.appliance || query.outlet || query.circuit || query.unit
      ? [{ label: view.subject, offHref: off({ appliance: undefined, outlet: undefined, circuit: undefined, unit: undefined }) }]
      : []),
    ...(query.baseFrom
      ? [{ label: `compared with ${query.baseFrom} to ${query.baseTo}`, offHref: off({ baseFrom: undefined, baseTo: undefined }) }]
      : []),
  ];
  return (
    <>
      <FilterBar
        action="/readings/energy"
        key={JSON.stringify([site.id, query, period.fromDay, period.toDay, step, split])}
        more={
          <>
            <SelectField label="Chart by" name="step" defaultValue={step}>
              <option value="hour">hour</option>
              <option value="day">day</option>
            </SelectField>
            <TextField label="Baseline from" name="baseFrom" type="date" defaultValue={query.baseFrom ?? ""} />
            <TextField label="Baseline to" name="baseTo" type="date" defaultValue={query.baseTo ?? ""} />
          </>
        }
      >
        <SelectField label="Site" name="site" defaultValue={site.id}>
          <NamedOptions list={sites} />
        </SelectField>
        <SelectField label="Unit" name="unit" defaultValue={query.unit ?? ""}>
          <Options list={names.units} none="all" />
        </SelectField>
        <SelectField label="Circuit" name="circuit" defaultValue={query.circuit ?? ""}>
          <Options list={names.circuits} none="all" />
        </SelectField>
        <TextField label="From" name="from" type="date" defaultValue={period.fromDay} />
        <TextField label="To" name="to" type="date" defaultValue={period.toDay} />
        <SelectField label="Split by" name="split" defaultValue={split}>
          {["unit", "circuit", "outlet", "appliance"].map((name) => (
            <option key={name}>{name}</option>
          ))}
        </SelectField>
        {query.appliance && <input type="hidden" name="appliance" value={query.appliance} />}
        <Button>Show</Button>
      </FilterBar>
      <FilterChips chips={chips} clearHref={energyHref({ site: query.site })} />
    </>
  );
}
