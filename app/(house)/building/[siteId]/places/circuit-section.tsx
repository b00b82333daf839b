import Link from "next/link";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { cell, DataTable, figureColumn, spokenColumn, TableHead } from "@/app/_ui/data-table";
import { FieldColumns, TextField } from "@/app/_ui/field";
import { Seen } from "@/app/_ui/seen";
import { placeSeen } from "@/lib/registry/place-form";
import type { Circuit } from "@/lib/store/rows";
import { saveCircuitAction } from "../../actions";
import { editHref, PlaceSection, type PlaceSectionProps } from "./place-section";
import styles from "./places.module.css";

function CircuitForm({ plan, edited, here }: PlaceSectionProps & { edited: Circuit | null }) {
  const { site, unit, circuits } = plan;
  return (
    <ActionForm key={edited?.id ?? `new${circuits.length}`} action={saveCircuitAction} done="Saved.">
      <input type="hidden" name="id" value={edited?.id ?? ""} />
      <input type="hidden" name="siteId" value={site.id} />
      <Seen values={placeSeen("circuit", edited)} />
      <input type="hidden" name="unitId" value={unit?.id ?? ""} />
      <FieldColumns>
        <TextField
          label={edited ? "Name of the circuit" : "New circuit"}
          name="name"
          defaultValue={edited?.name ?? ""}
          required
          maxLength={120}
          autoComplete="off"
        />
        <TextField
          label="Device, A"
          name="deviceAmps"
          defaultValue={edited?.deviceAmps ?? ""}
          inputMode="decimal"
          hint="rating of its breaker or fuse"
        />
        <TextField label="Voltage, V" name="volts" defaultValue={edited?.volts ?? site.nominalVolts ?? ""} inputMode="decimal" />
        <TextField label="Leg" name="leg" defaultValue={edited?.leg ?? ""} maxLength={20} hint="1 or 2, A or B, L1 to L3" />
      </FieldColumns>
      <Acts>
        <Button>{edited ? "Save the circuit" : "Add the circuit"}</Button>
        {edited && (
          <ButtonLink look="quiet" href={`${here}#circuits`}>
            Leave it as it was
          </ButtonLink>
        )}
      </Acts>
    </ActionForm>
  );
}

const figure = (value: number | null, unit: string) => (value === null ? <span className="mute">not known</span> : `${value} ${unit}`);

/** The circuits of the open unit, or of the house: device, voltage, leg. */
export function CircuitSection(props: PlaceSectionProps) {
  const { plan, editId, here } = props;
  const edited = plan.circuits.find(({ id }) => id === editId) ?? null;
  return (
    <PlaceSection head="Circuits" id="circuits" count={plan.circuits.length} form={<CircuitForm {...props} edited={edited} />}>
      {plan.circuits.length > 0 && (
        <div className={styles.table}>
          <DataTable caption="Circuits" cards>
            <TableHead columns={["Circuit", figureColumn("Device"), figureColumn("Voltage"), "Leg", spokenColumn("Change")]} />
            <tbody>
              {plan.circuits.map((circuit) => (
                <tr key={circuit.id}>
                  <th scope="row">{circuit.name}</th>
                  <td className={cell.num}>{figure(circuit.deviceAmps, "A")}</td>
                  <td className={cell.num}>{figure(circuit.volts, "V")}</td>
                  <td data-label="leg">{circuit.leg}</td>
                  <td>
                    <Link href={editHref(here, circuit.id, "circuits")} aria-label={`Change circuit ${circuit.name}`}>
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
