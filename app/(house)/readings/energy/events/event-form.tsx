import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { FieldColumns, TextField } from "@/app/_ui/field";
import { FormId } from "@/app/_ui/form-id";
import { PlainSection } from "@/app/_ui/side-section";
import { addDemandEventAction } from "../actions";

/** Adds an event: a day, whole hours of the site's clock, and with how many similar days it is compared. */
export function EventForm({ siteId, today }: { siteId: string; today: string }) {
  return (
    <PlainSection head="Add an event" id="add">
      <ActionForm action={addDemandEventAction} done="The event is added.">
        <input type="hidden" name="siteId" value={siteId} />
        <FormId />
        <FieldColumns>
          <TextField label="Name" name="name" required maxLength={80} autoComplete="off" />
          <TextField label="Day" name="day" type="date" defaultValue={today} required />
          <TextField
            label="From hour"
            name="fromHour"
            defaultValue="17"
            inputMode="numeric"
            required
            hint="Whole hours of the site's clock."
          />
          <TextField label="To hour" name="toHour" defaultValue="20" inputMode="numeric" required />
          <TextField
            label="Similar days"
            name="similarDays"
            defaultValue="10"
            inputMode="numeric"
            required
            hint="3 to 30. Weekdays with weekdays, weekends with weekends."
          />
        </FieldColumns>
        <Acts>
          <Button look="main">Add the event</Button>
        </Acts>
      </ActionForm>
    </PlainSection>
  );
}
