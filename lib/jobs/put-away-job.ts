import type { Actor } from "@/lib/access/actor";
import { bookEnergy } from "@/lib/registry/energy-book";
import { putAway } from "@/lib/registry/put-away";
import { takeSiteTurn } from "@/lib/registry/site-turn";
import { forgetAnswers } from "@/lib/store/batch-queries";
import type { Store } from "@/lib/store/client";
import { findJob, queueJob } from "@/lib/store/job-queries";
import { findSitesToTidy } from "@/lib/store/retention-queries";
import type { JobWork } from "./worker";

/** The kind of job that puts one site's old readings away. */
export const putAwayKind = "put readings away";

/** A batch's name is remembered this long; its rows are known again for as long as they are kept. */
const rememberAnswersMs = 7 * 86_400_000;

interface Payload {
  readonly siteId: string;
  readonly keepDays: number;
}

/** Makes a job a day of each site whose readings are not kept for good, and forgets answers that nobody asks for again. */
export async function queuePuttingAway(db: Store, at: Date): Promise<void> {
  const day = at.toISOString().slice(0, 10);
  for (const { siteId, organisationId, keepDays } of await findSitesToTidy(db)) {
    const id = `put away ${siteId} ${day}`;
    if ((await findJob(db, organisationId, id)) !== null) continue;
    const payload: Payload = { siteId, keepDays };
    await queueJob(db, { id, organisationId, kind: putAwayKind, payload, byUserId: null, at });
  }
  await forgetAnswers(db, new Date(at.getTime() - rememberAnswersMs));
}

function retentionActor(organisationId: string): Actor {
  return { userId: null, name: "retention", organisationId, role: "administrator", siteIds: "all" };
}

export const putAwayJob: JobWork = async (db, { job, clock }) => {
  const { siteId, keepDays } = job.payload as unknown as Payload;
  const actor = retentionActor(job.organisationId);
  const done = await takeSiteTurn(db, siteId, async (lease) => {
    // What is due is booked from the readings before they go.
    await bookEnergy(db, actor, clock());
    return putAway({ db, actor, siteId, keepDays, lease, now: clock() });
  });
  if (done === null) return { message: "Another process judged the site's readings: tomorrow again." };
  if (typeof done === "string") return { message: done };
  const { readings, aroundEpisodes, minutes, hours, before } = done;
  const message = `${readings} readings from before ${before.toISOString()} are no longer kept one by one; ${aroundEpisodes} around episodes stay. ${minutes} minutes became ${hours} sums of an hour.`;
  return { message };
};
