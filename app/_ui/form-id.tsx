import { newId } from "@/lib/store/ids";

/** The id that what the form makes will have: sent twice, the form still makes one. */
export function FormId() {
  return <input type="hidden" name="formId" defaultValue={newId()} />;
}
