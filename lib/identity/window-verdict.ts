/** Where a printed code lies: `unknown` when the notice's words do not let it be decided. */
export type WindowPlace = "inside" | "outside" | "unknown";

/** A verdict with the reading it rests on, in words for a person; `null` when the code was compared simply as printed. */
export interface WindowVerdict {
  readonly place: WindowPlace;
  readonly reading: string | null;
  /** `unknown` because the code has another length or form than this window: it may still be of the form of another window. */
  readonly isOtherForm?: true;
}

export function verdict(place: WindowPlace, reading: string | null = null): WindowVerdict {
  return { place, reading };
}

export function otherForm(reading: string): WindowVerdict {
  return { place: "unknown", reading, isOtherForm: true };
}
