import Link from "next/link";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { cell, DataTable, figureColumn, spokenColumn, TableHead } from "@/app/_ui/data-table";
import { FieldColumns, NamedOptions, SelectField, TextField } from "@/app/_ui/field";
import { Seen } from "@/app/_ui/seen";
import { placeSeen } from "@/lib/registry/place-form";
import type { PlacePlan } from "@/lib/registry/place-plan";
import type { Outlet } from "@/lib/store/rows";
import { saveOutletAction } from "../../actions";
import { editHref, PlaceSection, type PlaceSectionProps } from "./place-section";
import styles from "./places.module.css";

/** The open unit's circuits first; an outlet may hang on another one of the site. */
function CircuitOptions({ plan }: { plan: PlacePlan }) {
  const others = plan.allCircuits.filter((circuit) => !plan.circuits.includes(circuit));
  return (
    <>
      <option value="">not known</option>
      <NamedOptions list={plan.circuits} />
      {others.length > 0 && (
        <optgroup label="elsewhere at the site">
          <NamedOptions list={others} />
        </optgroup>
      )}
    </>
  );
}

function UnitOptions({ plan }: { plan: PlacePlan }) {
  return (
    <>
      <option value="">none, a shared area</option>
      <NamedOptions list={plan.units} />
    </>
  );
}

function OutletForm({ plan, edited, here }: PlaceSectionProps & { edited: Outlet | null }) {
  const { site, unit, outlets, circuits } = plan;
  const circuitId = edited ? (edited.circuitId ?? "") : circuits.length === 1 ? (circuits[0]?.id ?? "") : "";
  return (
    <ActionForm key={edited?.id ?? `new${outlets.length}`} action={saveOutletAction} done="Saved.">
      <input type="hidden" name="id" value={edited?.id ?? ""} />
      <input type="hidden" name="siteId" value={site.id} />
      <Seen values={placeSeen("outlet", edited)} />
      <FieldColumns>
        <TextField
          label={edited ? "Name of the outlet" : "New outlet"}
          name="name"
          defaultValue={edited?.name ?? ""}
          required
          maxLength={120}
          autoComplete="off"
          hint="No other outlet of the organisation has this name."
        />
        <SelectField label="Unit" name="unitId" defaultValue={edited ? (edited.unitId ?? "") : (unit?.id ?? "")}>
          <UnitOptions plan={plan} />
        </SelectField>
        <SelectField label="Circuit" name="circuitId" defaultValue={circuitId}>
          <CircuitOptions plan={plan} />
        </SelectField>
        <TextField
          label="Rating, A"
          name="outletAmps"
          defaultValue={edited?.outletAmps ?? ""}
          inputMode="decimal"
          hint="all its receptacles together"
        />
        <TextField label="Receptacles" name="receptacles" defaultValue={edited?.receptacles ?? 2} inputMode="numeric" />
      </FieldColumns>
      <Acts>
        <Button>{edited ? "Save the outlet" : "Add the outlet"}</Button>
        {edited && (
          <ButtonLink look="quiet" href={`${here}#outlets`}>
            Leave it as it was
          </ButtonLink>
        )}
      </Acts>
    </ActionForm>
  );
}

/** The outlets of the open unit, or of no unit. */
export function OutletSection(props: PlaceSectionProps) {
  const { plan, editId, here } = props;
  const edited = plan.outlets.find(({ id }) => id === editId) ?? null;
  const circuits = new Map(plan.allCircuits.map(({ id, name }) => [id, name]));
  return (
    <PlaceSection head="Outlets" id="outlets" count={plan.outlets.length} form={<OutletForm {...props} edited={edited} />}>
      {plan.outlets.length > 0 && (
        <div className={styles.table}>
          <DataTable caption="Outlets" cards>
            <TableHead columns={["Outlet", "Circuit", figureColumn("Rating"), figureColumn("Receptacles"), spokenColumn("Change")]} />
            <tbody>
              {plan.outlets.map((outlet) => (
                <tr key={outlet.id}>
                  <th scope="row">{outlet.name}</th>
                  <td data-label="circuit">{circuits.get(outlet.circuitId ?? "") ?? <span className="mute">not known</span>}</td>
                  <td className={cell.num}>
                    {outlet.outletAmps === null ? <span className="mute">not known</span> : `${outlet.outletAmps} A`}
                  </td>
                  <td className={cell.num} data-label="receptacles">
                    {outlet.receptacles}
                  </td>
                  <td>
                    <Link href={editHref(here, outlet.id, "outlets")} aria-label={`Change outlet ${outlet.name}`}>
                      Change
                    </Link>
                  </td>
                </tr>
              ))}
            </tbody>
          </DataTable>
        </div>
      )}
    </PlaceSection>
  );
}
