import { Button } from "@/app/_ui/button";
import { NamedOptions, SelectField } from "@/app/_ui/field";
import { FilterBar } from "@/app/_ui/filter-bar";

/** Chooses among the sites in reach; nothing where there is only one. */
export function SiteChoice({ path, siteId, sites }: { path: string; siteId: string; sites: readonly { id: string; name: string }[] }) {
  if (sites.length < 2) return null;
  return (
    <FilterBar action={path} key={siteId}>
      <SelectField label="Site" name="site" defaultValue={siteId}>
        <NamedOptions list={sites} />
      </SelectField>
      <Button>Show</Button>
    </FilterBar>
  );
}
