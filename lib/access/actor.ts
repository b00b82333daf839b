/** The four roles. An administrator also manages people; an occupant has no account. */
export type Role = "administrator" | "manager" | "surveyor" | "inspector";
export const roles: readonly Role[] = ["administrator", "manager", "surveyor", "inspector"];

/** Who acts: a signed-in person in one organisation, or the command line for it. */
export interface Actor {
  /** Null for the command line and scheduled work. */
  readonly userId: string | null;
  readonly name: string;
  readonly organisationId: string;
  readonly role: Role;
  /** The sites the person may see and change. */
  readonly siteIds: readonly string[] | "all";
}

/** The command line acts with an administrator's rights for one organisation: whoever can run it can read the database anyway. */
export function commandLineActor(organisationId: string): Actor {
  return { userId: null, name: "command line", organisationId, role: "administrator", siteIds: "all" };
}

/** Work that a schedule starts acts for one organisation; whoever set the schedule up had the right to. */
export function scheduleActor(organisationId: string): Actor {
  return { userId: null, name: "schedule", organisationId, role: "administrator", siteIds: "all" };
}

/** How the record names the actor: an id, never a name, so that names stay erasable. */
export function recordName(actor: Actor): string {
  return actor.userId ?? actor.name;
}
