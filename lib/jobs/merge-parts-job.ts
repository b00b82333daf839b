import { mergeSiteParts } from "@/lib/registry/merge-parts";
import { takeSiteTurn } from "@/lib/registry/site-turn";
import type { Store } from "@/lib/store/client";
import { findJob, queueJob } from "@/lib/store/job-queries";
import { sitesToMerge } from "@/lib/store/part-merge-queries";
import type { JobWork } from "./worker";

/** The kind of job that keeps a site's small parts of live readings together. */
export const mergePartsKind = "merge kept readings";

/** A site is tidied once it has this many parts of less than `smallRows` rows that are older than `restMs`. Own choice. */
const fewestParts = 64;
const smallRows = 10_000;
const restMs = 2 * 3_600_000;

interface Payload {
  readonly siteId: string;
}

/** Makes a job an hour of each site that many small batches came in at. */
export async function queueMerging(db: Store, at: Date): Promise<void> {
  const hour = at.toISOString().slice(0, 13);
  const before = new Date(at.getTime() - restMs);
  for (const { siteId, organisationId } of await sitesToMerge(db, { before, rows: smallRows, fewest: fewestParts })) {
    const id = `merge ${siteId} ${hour}`;
    if ((await findJob(db, organisationId, id)) !== null) continue;
    const payload: Payload = { siteId };
    await queueJob(db, { id, organisationId, kind: mergePartsKind, payload, byUserId: null, at });
  }
}

export const mergePartsJob: JobWork = async (db, { job, clock }) => {
  const { siteId } = job.payload as unknown as Payload;
  const before = new Date(clock().getTime() - restMs);
  const { organisationId } = job;
  const merged = await takeSiteTurn(db, siteId, (lease) => mergeSiteParts({ db, organisationId, siteId, lease, before }));
  if (merged === null) return { message: "Another process judged the site's readings: later again." };
  return { message: `${merged.parts} parts of readings are kept as ${merged.into}.` };
};
