import { Trouble } from "@/lib/access/trouble";
import type { Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { appendRecord } from "@/lib/store/record";

/** The name of the organisation that a first load makes where nobody has named one. */
const unnamed = "My organisation";

export interface ChosenOrganisation {
  readonly id: string;
  readonly name: string;
  readonly isNew: boolean;
}

/**
 * The organisation that a command works for: the named one, or the only one. In an empty database it is made, so that a first
 * file can be loaded before anyone has an account. Throws `Trouble` when the name is unknown or one must be named.
 */
export async function chooseOrganisation(db: Store, name: string | null, now: Date): Promise<ChosenOrganisation> {
  return db.$transaction(async (tx) => {
    const all = await tx.organisation.findMany({ select: { id: true, name: true }, orderBy: { name: "asc" } });
    const wanted = name?.trim().toLowerCase();
    const found = wanted === undefined ? (all.length === 1 ? all[0] : undefined) : all.find((one) => one.name.toLowerCase() === wanted);
    if (found) return { ...found, isNew: false };
    const names = all.map((one) => one.name).join(", ");
    if (all.length > 0 && name === null)
      throw new Trouble("not_valid", `There are several organisations: name one with --organisation: ${names}.`);
    if (all.length > 0) throw new Trouble("not_found", `There is no organisation "${name}"; there is: ${names}.`);
    const made = { id: newId(), name: name?.trim() || unnamed };
    await tx.organisation.create({ data: { ...made, createdAt: now } });
    const entry = { organisationId: made.id, at: now, actor: "command line", what: "made organisation" };
    await appendRecord(tx, [{ ...entry, subjectKind: "organisation", subjectId: made.id, after: { name: made.name } }]);
    return { ...made, isNew: true };
  });
}
