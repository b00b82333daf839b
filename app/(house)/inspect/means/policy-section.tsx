import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { DefinitionList } from "@/app/_ui/definition-list";
import { FieldColumns, SelectField, TextField } from "@/app/_ui/field";
import { SideSection } from "@/app/_ui/side-section";
import { inspectionIntervals, intervalSource } from "@/lib/casework/inspection-due";
import { inspectionStandards } from "@/lib/electrical/inspection-limit-tables";
import type { SiteInspectionPolicy } from "@/lib/registry/inspection-policy";
import { savePolicy } from "../actions";

interface Props {
  site: { readonly id: string; readonly name: string };
  policy: SiteInspectionPolicy;
  may: boolean;
}

/** By what a site inspects, and how often. */
export function PolicySection({ site, policy, may }: Props) {
  const head = `By what ${site.name} inspects`;
  if (!may)
    return (
      <SideSection head={head}>
        <DefinitionList
          entries={[
            ["Standard", inspectionStandards[policy.standard].words],
            ["Usual place", inspectionIntervals[policy.environment].words],
            ["Interval", policy.months === null ? intervalSource : `${policy.months} months`],
            ["First inspection", `${policy.firstDays} days after it was entered`],
          ]}
        />
      </SideSection>
    );
  return (
    <SideSection head={head} note={`Intervals: ${intervalSource}, unless the site states its own. Local code comes first.`}>
      <ActionForm action={savePolicy} done="Saved." key={policy.version}>
        <input type="hidden" name="siteId" value={site.id} />
        <input type="hidden" name="version" value={policy.version} />
        <FieldColumns>
          <SelectField label="Standard" name="standard" defaultValue={policy.standard}>
            {Object.entries(inspectionStandards).map(([name, { words }]) => (
              <option key={name} value={name}>
                {words}
              </option>
            ))}
          </SelectField>
          <SelectField label="Usual place of use" name="environment" defaultValue={policy.environment}>
            {Object.entries(inspectionIntervals).map(([name, { words, months }]) => (
              <option key={name} value={name}>
                {words}: {months["Class I"]}, {months["Class II"]} months (Class I, II)
              </option>
            ))}
          </SelectField>
        </FieldColumns>
        <FieldColumns>
          <TextField
            label="Own interval, months"
            name="months"
            inputMode="numeric"
            defaultValue={policy.months ?? ""}
            hint="Empty: by the table."
          />
          <TextField label="First inspection within, days" name="firstDays" inputMode="numeric" required defaultValue={policy.firstDays} />
        </FieldColumns>
        <Acts>
          <Button look="plain">Save</Button>
        </Acts>
      </ActionForm>
    </SideSection>
  );
}
