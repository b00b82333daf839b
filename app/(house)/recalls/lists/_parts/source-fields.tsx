import { FieldColumns, SelectField, TextField } from "@/app/_ui/field";
import { intervals } from "@/lib/registry/notice-source-form";
import { intervalWords } from "./source-words";

/** What a person gives of a list that is fetched. */
export function SourceFields({ source }: { source?: { readonly name: string; readonly url: string; readonly everyHours: number } }) {
  return (
    <>
      <FieldColumns>
        <TextField
          label="Name"
          name="name"
          required
          maxLength={120}
          autoComplete="off"
          defaultValue={source?.name}
          hint="By which others know it, such as its publisher."
        />
        <SelectField label="Look" name="everyHours" defaultValue={source?.everyHours ?? 24}>
          {intervals.map((hours) => (
            <option key={hours} value={hours}>
              {intervalWords(hours)}
            </option>
          ))}
        </SelectField>
      </FieldColumns>
      <TextField
        label="Address of the list"
        name="url"
        type="url"
        required
        maxLength={2000}
        autoComplete="off"
        defaultValue={source?.url}
        placeholder="https://"
        hint="The list itself, not the page that shows it. https:// only, on the public internet."
      />
    </>
  );
}
