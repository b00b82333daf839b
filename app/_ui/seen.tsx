import { type SeenValues, seenMark } from "@/lib/access/changed-meanwhile";
import { SeenMark } from "./seen-mark";

/** Says in a form what it was filled from, so that nobody's change is overwritten unseen. A form for a new thing has none. */
export function Seen({ values, name }: { values: SeenValues | null; name?: string }) {
  return values && <SeenMark mark={seenMark(values)} values={values} name={name} />;
}
