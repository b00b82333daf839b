import type { DeviationSetName } from "@/lib/electrical/deviation-sets";
import type { Rating } from "@/lib/electrical/rating";
import type { DocumentedBaseline } from "./documented-baseline";

/** One appliance as the screening needs it. `outlet` and `receptacle` are where it is recorded to be; a tag in the log moves it. */
export interface ScreenedAppliance {
  readonly tag: string;
  readonly site: string | null;
  readonly outlet: string | null;
  readonly receptacle: string | null;
  readonly category: string | null;
  readonly rating: Rating;
  /** The standard and edition of its site; the usual one unless told otherwise. */
  readonly deviation?: DeviationSetName;
  /** Days of which its usual running draw is the median; its first days with readings unless told otherwise. */
  readonly baseline?: DocumentedBaseline;
}
