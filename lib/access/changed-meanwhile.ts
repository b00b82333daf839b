import { createHash } from "node:crypto";
import { canonicalJson } from "@/lib/store/record";
import { Trouble } from "./trouble";

/** What somebody else did to a thing between a form's being opened and its being sent. */
export interface Meanwhile {
  /** The form's field that says what it was filled from, and what it must say to be saved over what is there now. */
  readonly mark: { readonly name: string; readonly value: string };
  /** What stands there now, by the form's fields, as text. */
  readonly theirs: Readonly<Record<string, string>>;
  /** What else was done, a sentence each. */
  readonly others: readonly string[];
}

/** Nothing was written, because somebody else changed the thing meanwhile: the form shows both, and neither is lost. */
export class ChangedMeanwhile extends Trouble {
  readonly meanwhile: Meanwhile;

  constructor(what: string, meanwhile: Partial<Meanwhile> & Pick<Meanwhile, "mark">) {
    super("changed_meanwhile", `Somebody else changed ${what} meanwhile. Nothing was saved yet: look at theirs, then save again.`);
    this.meanwhile = { theirs: {}, others: [], ...meanwhile };
  }
}

/** What a form can change of a thing, by the names of its fields. */
export type SeenValues = Readonly<Record<string, string | number | null>>;

/** The field in which a form sends the mark of what it was filled from. */
export const seenField = "seen";

/** A short mark of what a form was filled from: equal values, equal mark. */
export function seenMark(values: SeenValues): string {
  return createHash("sha256").update(canonicalJson(values)).digest("hex").slice(0, 32);
}

/**
 * Throws `ChangedMeanwhile` where a thing is no longer as the form was filled from. Call it in the transaction that writes. Callers that
 * have no form, such as a file, send no mark and are not asked. `shown` is for values that a person would not recognise,
 * `field` for a form that has more than one mark.
 */
export function requireSeen(
  seen: string | undefined,
  present: SeenValues,
  {
    what,
    shown = {},
    field = seenField,
  }: { readonly what: string; readonly shown?: Readonly<Record<string, string>>; readonly field?: string },
): void {
  const value = seenMark(present);
  if (seen === undefined || seen === value) return;
  const theirs = Object.fromEntries(Object.entries(present).map(([name, is]) => [name, is === null ? "" : String(is)]));
  throw new ChangedMeanwhile(what, { mark: { name: field, value }, theirs: { ...theirs, ...shown } });
}
