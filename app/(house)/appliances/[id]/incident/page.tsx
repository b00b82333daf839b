import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { AreaField, CheckField, FieldColumns, SelectField, TextField } from "@/app/_ui/field";
import { FormId } from "@/app/_ui/form-id";
import { PageHead } from "@/app/_ui/page-head";
import { SideSection } from "@/app/_ui/side-section";
import { SignalBanner } from "@/app/_ui/signal-banner";
import { getAppliance } from "@/lib/registry/appliance";
import { incidentKinds } from "@/lib/registry/incident";
import { report } from "./actions";
import { OffsetField } from "./offset-field";

export const metadata: Metadata = { title: "Report an incident" };

export default async function IncidentPage({ params }: { params: Promise<{ id: string }> }) {
  const { db, actor } = await requirePage("report incidents");
  const appliance = await forPage(getAppliance(db, actor, (await params).id));
  const what = [appliance.brand, appliance.model, appliance.category].filter(Boolean).join(" ") || "this appliance";
  return (
    <>
      <PageHead
        title="Report an incident"
        crumbs={[
          { label: "Appliances", href: "/appliances" },
          { label: appliance.tag, href: `/appliances/${appliance.id}` },
          { label: "incident" },
        ]}
        lead={`With ${what}. The appliance is put out of use and everything about it is kept as it is now, until the hold is released.`}
      />
      <SignalBanner word="DANGER" stacked>
        <p>
          <b>People first: get out, and call the emergency number if anything burns, smokes or anybody is hurt.</b>
        </p>
        <p>
          Do not touch or move the appliance: an investigator may need it as it lies. Switch the circuit off at the panel if that is safe.
        </p>
      </SignalBanner>
      <SideSection head="What happened">
        <ActionForm action={report}>
          <input type="hidden" name="applianceId" value={appliance.id} />
          <FormId />
          <OffsetField />
          <FieldColumns>
            <SelectField label="Kind" name="kind" required defaultValue="">
              <option value="" disabled>
                choose
              </option>
              {Object.entries(incidentKinds).map(([kind, words]) => (
                <option key={kind} value={kind}>
                  {words}
                </option>
              ))}
            </SelectField>
            <TextField label="When" name="at" type="datetime-local" required />
          </FieldColumns>
          <CheckField label="Somebody was hurt" name="injured" />
          <AreaField label="What happened, in the order in which it happened" name="text" rows={5} maxLength={4000} required />
          <TextField
            label="Who was told"
            name="reportedTo"
            maxLength={500}
            hint="Fire service, authority, insurer, maker. Some authorities ask for a report within a day."
          />
          <Acts>
            <Button look="main">Report it</Button>
            <ButtonLink href={`/appliances/${appliance.id}`} look="quiet">
              Leave it
            </ButtonLink>
          </Acts>
        </ActionForm>
      </SideSection>
    </>
  );
}
