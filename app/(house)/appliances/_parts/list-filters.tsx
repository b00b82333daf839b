import { Button } from "@/app/_ui/button";
import { SelectField, TextField } from "@/app/_ui/field";
import { FilterBar } from "@/app/_ui/filter-bar";
import type { ApplianceQuery } from "@/lib/registry/appliance-list";
import { listPath } from "./address";
import { absentWords, plateOptions, recallOptions, signalOptions, standsOptions, stateOptions } from "./filter-words";

interface Choices {
  readonly sites: readonly { readonly id: string; readonly name: string }[];
  readonly categories: readonly string[];
}

function Choice(props: {
  label: string;
  name: string;
  value: string | undefined;
  any?: string;
  options: Readonly<Record<string, string>>;
}) {
  return (
    <SelectField label={props.label} name={props.name} defaultValue={props.value ?? ""}>
      <option value="">{props.any ?? "any"}</option>
      {Object.entries(props.options).map(([value, words]) => (
        <option key={value} value={value}>
          {words}
        </option>
      ))}
    </SelectField>
  );
}

/** The search and the filters; plain GET, so that the address holds them. A change of the key shows the address' values again. */
export function ListFilters({ query, choices }: { query: ApplianceQuery; choices: Choices }) {
  const sites = Object.fromEntries(choices.sites.map(({ id, name }) => [id, name]));
  const kinds = Object.fromEntries(choices.categories.map((name) => [name, name]));
  const rare = (
    <>
      <Choice label="State" name="state" value={query.state} any="in use or out of use" options={stateOptions} />
      <Choice label="Rating plate" name="plate" value={query.plate} options={plateOptions} />
      <Choice label="Absent" name="absent" value={query.absent} options={{ yes: absentWords }} />
      <Choice label="Recall" name="recall" value={query.recall} options={recallOptions} />
    </>
  );
  return (
    <FilterBar action={listPath} more={rare} key={JSON.stringify(query)}>
      <TextField
        label="Find"
        type="search"
        name="q"
        defaultValue={query.q ?? ""}
        placeholder="Tag, maker, model, serial, unit, words from the label"
      />
      {choices.sites.length > 1 && <Choice label="Site" name="site" value={query.site} options={sites} />}
      <Choice label="Kind" name="kind" value={query.kind} options={kinds} />
      <Choice label="Finding" name="signal" value={query.signal} options={signalOptions} />
      <Choice label="Seen against allowed" name="stands" value={query.stands} options={standsOptions} />
      {query.unit && <input type="hidden" name="unit" value={query.unit} />}
      {query.maker && <input type="hidden" name="maker" value={query.maker} />}
      {query.model && <input type="hidden" name="model" value={query.model} />}
      {query.sort && <input type="hidden" name="sort" value={query.sort} />}
      {query.order && <input type="hidden" name="order" value={query.order} />}
      <Button>Show</Button>
    </FilterBar>
  );
}
