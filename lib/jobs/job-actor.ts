import type { Actor } from "@/lib/access/actor";
import { findActor } from "@/lib/access/find-actor";
import { Trouble } from "@/lib/access/trouble";
import type { Store } from "@/lib/store/client";
import type { Job } from "@/lib/store/job-queries";

/** The person who started a job, with the rights they have now. */
export async function actorOf(db: Store, job: Job): Promise<Actor> {
  const home = job.byUserId === null ? null : await findActor(db, job.byUserId);
  if (!home || home.actor.organisationId !== job.organisationId) {
    throw new Trouble("not_allowed_now", "Whoever started this no longer belongs to the organisation: someone else must start it again.");
  }
  return home.actor;
}
