import Link from "next/link";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { FieldColumns, TextField } from "@/app/_ui/field";
import { Seen } from "@/app/_ui/seen";
import { placeSeen } from "@/lib/registry/place-form";
import { saveUnitAction } from "../../actions";
import { PlaceSection, type PlaceSectionProps } from "./place-section";
import styles from "./places.module.css";

/** The site's units, each a way into its circuits and outlets; the open one can be renamed. */
export function UnitSection({ plan, base }: PlaceSectionProps) {
  const { unit, units, site } = plan;
  const form = (
    <ActionForm key={unit?.id ?? `new${units.length}`} action={saveUnitAction} done="Saved.">
      <input type="hidden" name="id" value={unit?.id ?? ""} />
      <input type="hidden" name="siteId" value={site.id} />
      <Seen values={placeSeen("unit", unit)} />
      <FieldColumns>
        <TextField
          label={unit ? "Name of the unit" : "New unit"}
          name="name"
          defaultValue={unit?.name ?? ""}
          required
          maxLength={120}
          autoComplete="off"
        />
      </FieldColumns>
      <Acts>
        <Button>{unit ? "Rename the unit" : "Add the unit"}</Button>
        {unit && (
          <ButtonLink look="quiet" href={base}>
            All units
          </ButtonLink>
        )}
      </Acts>
    </ActionForm>
  );
  return (
    <PlaceSection head={unit ? "Unit" : "Units"} id="units" count={units.length} form={form}>
      {!unit && (
        <ul className={styles.units}>
          {units.map(({ id, name }) => (
            <li key={id}>
              <Link href={`${base}?unit=${id}`}>{name}</Link>
            </li>
          ))}
        </ul>
      )}
    </PlaceSection>
  );
}
