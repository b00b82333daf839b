import { Button } from "@/app/_ui/button";
import type { ApplianceFormText } from "@/lib/registry/appliance-form";
import type { FormHandle } from "./plate-paste";

/** What somebody else wrote into the field meanwhile, and the button that takes it over. */
export function Theirs({ form, name, theirs }: { form: FormHandle; name: keyof ApplianceFormText; theirs: Partial<ApplianceFormText> }) {
  const value = theirs[name];
  if (value === undefined) return null;
  return (
    <>
      Somebody else wrote: <b>{value === "" ? "nothing" : value}</b>{" "}
      <Button type="button" look="quiet" onClick={() => form.setValue(name, value, { shouldDirty: true, shouldValidate: true })}>
        Take theirs
      </Button>
    </>
  );
}
