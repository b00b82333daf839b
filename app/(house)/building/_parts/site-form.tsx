import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { FieldColumns, TextField } from "@/app/_ui/field";
import { Seen } from "@/app/_ui/seen";
import { placeSeen } from "@/lib/registry/place-form";
import { saveSiteAction } from "../actions";

interface SiteText {
  readonly id: string | null;
  readonly name: string;
  readonly timeZone: string | null;
  readonly nominalVolts: number | null;
}

/** A site: its name, the zone its clocks follow, the voltage its outlets have. */
export function SiteForm({ site, cancelHref }: { site: SiteText; cancelHref: string }) {
  return (
    <ActionForm action={saveSiteAction}>
      <input type="hidden" name="id" value={site.id ?? ""} />
      <Seen values={placeSeen("site", site.id === null ? null : site)} />
      <FieldColumns>
        <TextField label="Name" name="name" defaultValue={site.name} required maxLength={120} autoComplete="off" />
        <TextField
          label="Time zone"
          name="timeZone"
          defaultValue={site.timeZone ?? ""}
          hint="IANA name, such as America/Chicago. Log times without an offset are read in it."
          autoComplete="off"
          list="zones"
        />
        <TextField
          label="Nominal voltage, V"
          name="nominalVolts"
          defaultValue={site.nominalVolts ?? ""}
          inputMode="decimal"
          hint="What its outlets have, such as 120 or 230. It chooses among the pairs of a plate."
        />
      </FieldColumns>
      <datalist id="zones">
        {Intl.supportedValuesOf("timeZone").map((zone) => (
          <option key={zone} value={zone} />
        ))}
      </datalist>
      <Acts>
        <Button look="main">{site.id ? "Save" : "Add the site"}</Button>
        <ButtonLink look="quiet" href={cancelHref}>
          Leave it as it was
        </ButtonLink>
      </Acts>
    </ActionForm>
  );
}
