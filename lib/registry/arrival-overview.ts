import type { Actor } from "@/lib/access/actor";
import { listApiKeys, type ShownKey } from "@/lib/access/api-keys";
import { findSites } from "@/lib/store/arrival-queries";
import { type ArrivalDay, findArrivalDays } from "@/lib/store/batch-queries";
import type { Db } from "@/lib/store/client";
import { findStreams } from "@/lib/store/stream-queries";

/** What a source sent in the days shown, added up. */
export interface SourceCount {
  readonly batches: number;
  readonly accepted: number;
  readonly repeated: number;
  readonly setAside: number;
  /** The latest reason for which a row was set aside. */
  readonly problem: string | null;
}

export interface KeyLine extends ShownKey {
  readonly site: string;
  readonly count: SourceCount;
}

/** A site as a sender has to name it, with what came from a broker and how far its readings were judged. */
export interface SendingSite {
  readonly id: string;
  readonly organisationId: string;
  readonly name: string;
  readonly broker: SourceCount;
  readonly newestAt: Date | null;
  /** Parts that were not judged yet. */
  readonly waiting: number;
  readonly isStale: boolean;
}

const daysShown = 7;
const noneSent: SourceCount = { batches: 0, accepted: 0, repeated: 0, setAside: 0, problem: null };

function added(sum: SourceCount, day: ArrivalDay): SourceCount {
  return {
    batches: sum.batches + day.batches,
    accepted: sum.accepted + day.accepted,
    repeated: sum.repeated + day.repeated,
    setAside: sum.setAside + day.setAside,
    // Days come newest first.
    problem: sum.problem ?? day.problem,
  };
}

/** The keys of the actor's sites, and what came in by each way in the last seven days. Permission: `manage API keys`. */
export async function arrivalOverview(db: Db, actor: Actor, now: Date): Promise<{ keys: KeyLine[]; sites: SendingSite[] }> {
  const keys = await listApiKeys(db, actor);
  const { organisationId } = actor;
  const siteIds = actor.siteIds === "all" ? null : actor.siteIds;
  const sites = (await findSites(db, organisationId)).filter(({ id }) => siteIds === null || siteIds.includes(id));
  const fromDay = new Date(now.getTime() - (daysShown - 1) * 86_400_000).toISOString().slice(0, 10);
  const counts = new Map<string, SourceCount>();
  for (const day of await findArrivalDays(db, { organisationId, siteIds, fromDay }))
    counts.set(day.source, added(counts.get(day.source) ?? noneSent, day));
  const streams = new Map((await findStreams(db, organisationId)).map((stream) => [stream.siteId, stream]));
  const names = new Map(sites.map(({ id, name }) => [id, name]));
  return {
    keys: keys.map((key) => ({
      ...key,
      site: names.get(key.siteId) ?? "a site no longer in use",
      count: counts.get(`key ${key.id}`) ?? noneSent,
    })),
    sites: sites.map((site) => {
      const stream = streams.get(site.id);
      return {
        ...site,
        broker: counts.get(`broker ${site.id}`) ?? noneSent,
        newestAt: stream?.newestAt ?? null,
        waiting: stream ? stream.lastPart - stream.screenedPart : 0,
        isStale: stream?.staleAt != null,
      };
    }),
  };
}
