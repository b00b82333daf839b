import { type SeenValues, seenField, seenMark } from "@/lib/access/changed-meanwhile";

/** Says in a form what it was filled from, so that nobody's change is overwritten unseen. A form for a new thing has none. */
export function Seen({ values }: { values: SeenValues | null }) {
  return values && <input type="hidden" name={seenField} defaultValue={seenMark(values)} />;
}
