import { useId } from "react";
import { AreaField, FieldColumns, NamedOptions, SelectField, TextField } from "@/app/_ui/field";
import { SideSection } from "@/app/_ui/side-section";
import type { DraftChoices } from "@/lib/registry/appliance-draft";
import { type ApplianceFormText, applianceFieldWords } from "@/lib/registry/appliance-form";
import type { FormHandle } from "./plate-paste";
import { TagField } from "./tag-field";
import { Theirs } from "./theirs";

type Name = keyof ApplianceFormText;
interface Groups {
  readonly form: FormHandle;
  readonly choices: DraftChoices;
  readonly theirs: Partial<ApplianceFormText>;
  readonly isNew: boolean;
}

const hints: Partial<Record<Name, string>> = {
  ratedVolts: "120, 100-240 or 120/240",
  ratedHertz: "60 or 50/60",
  maxLampWatts: "60, or 3 x 40",
  made: "2023, 2023-05 or 2023-05-17",
  receptacle: "upper, lower, a number or a name",
  category: "such as space heater; it decides what the appliance may draw",
  protectionClass: "I, II or III",
};
const codes: readonly Name[] = ["model", "serial", "dateCode", "upc"];

function Line({ name, form, theirs, list }: Pick<Groups, "form" | "theirs"> & { name: Name; list?: string }) {
  const conflict = name in theirs;
  return (
    <TextField
      label={applianceFieldWords[name]}
      hint={conflict ? <Theirs form={form} name={name} theirs={theirs} /> : hints[name]}
      error={form.formState.errors[name]?.message}
      code={codes.includes(name)}
      autoComplete="off"
      {...(list ? { list } : {})}
      {...form.register(name)}
    />
  );
}

function Lines({ names, ...rest }: Pick<Groups, "form" | "theirs"> & { names: readonly Name[] }) {
  return (
    <FieldColumns>
      {names.map((name) => (
        <Line key={name} name={name} {...rest} />
      ))}
    </FieldColumns>
  );
}

/** All fields in groups: what it is, what its plate allows, where it is, whose it is. */
export function FieldGroups({ form, choices, theirs, isNew }: Groups) {
  const both = { form, theirs };
  return (
    <>
      <SideSection head="What it is">
        <Lines {...both} names={["brand", "model", "category", "serial", "dateCode", "made", "upc"]} />
      </SideSection>
      <SideSection head="Its rating" note="As printed. What was not read stays empty, never zero.">
        <Lines {...both} names={["ratedVolts", "ratedHertz", "ratedWatts", "ratedAmps", "protectionClass", "maxLampWatts", "mark"]} />
      </SideSection>
      <SideSection head="Tag and place" note={isNew ? "Without a tag it gets a fresh one." : "A new tag ends the old one for good."}>
        <Place form={form} choices={choices} theirs={theirs} />
      </SideSection>
      <SideSection head="Besides">
        <Lines {...both} names={["owner"]} />
        <AreaField
          label={applianceFieldWords.notes}
          rows={3}
          hint={"notes" in theirs ? <Theirs {...both} name="notes" /> : undefined}
          error={form.formState.errors.notes?.message}
          {...form.register("notes")}
        />
      </SideSection>
    </>
  );
}

function Place({ form, choices, theirs }: Omit<Groups, "isNew">) {
  const units = useId();
  const siteId = form.watch("siteId");
  return (
    <FieldColumns>
      <TagField form={form} theirs={theirs} />
      <SelectField
        label="Site"
        error={form.formState.errors.siteId?.message}
        hint={"siteId" in theirs ? <Theirs form={form} name="siteId" theirs={theirs} /> : undefined}
        {...form.register("siteId")}
      >
        {choices.sites.length !== 1 && <option value="">choose</option>}
        <NamedOptions list={choices.sites} />
      </SelectField>
      <Line form={form} theirs={theirs} name="unit" list={units} />
      <datalist id={units}>
        {choices.units
          .filter((unit) => unit.siteId === siteId)
          .map(({ name }) => (
            <option key={name} value={name} />
          ))}
      </datalist>
      <Line form={form} theirs={theirs} name="outlet" />
      <Line form={form} theirs={theirs} name="receptacle" />
    </FieldColumns>
  );
}
