import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import type { Db } from "@/lib/store/client";
import {
  countChecks,
  findCheck,
  findChecks,
  findSourceJobs,
  findSources,
  type NoticeSource,
  type NoticeSourceCheck,
} from "@/lib/store/notice-source-queries";
import { getSource } from "./notice-source";
import { isUnchecked, type SourceState, sourceState } from "./notice-source-state";

export interface ShownSource extends NoticeSource {
  readonly state: SourceState;
  /** A job is looking at it now or waits to. */
  readonly isBeingChecked: boolean;
  readonly held: NoticeSourceCheck | null;
  /** Why the last work on it came to no end of its own, such as a process that was ended three times over. */
  readonly failure: string | null;
}

async function shown(db: Db, actor: Actor, sources: readonly NoticeSource[], now: Date): Promise<ShownSource[]> {
  const jobs = await findSourceJobs(db, sources);
  return Promise.all(
    sources.map(async (source) => {
      const job = source.jobId === null ? undefined : jobs.get(source.jobId);
      const failure = job?.state === "failed" ? job.message : null;
      const held = source.heldCheckId === null ? null : await findCheck(db, actor.organisationId, source.heldCheckId);
      return {
        ...source,
        state: sourceState(source, now),
        isBeingChecked: job?.state === "waiting" || job?.state === "running",
        held,
        failure,
      };
    }),
  );
}

/** The lists that are fetched on a schedule, by name. Permission: `see recalls`. */
export async function listSources(db: Db, actor: Actor, { now }: { readonly now: Date }): Promise<ShownSource[]> {
  requirePermission(actor, "see recalls");
  return shown(db, actor, await findSources(db, actor.organisationId), now);
}

/** One source with how it stands. Permission: `see recalls`. */
export async function viewSource(db: Db, actor: Actor, { id, now }: { readonly id: string; readonly now: Date }): Promise<ShownSource> {
  requirePermission(actor, "see recalls");
  const [source] = await shown(db, actor, [await getSource(db, actor, id)], now);
  return source as ShownSource;
}

/** The sources whose list may not be the publisher's: failed, late, held or paused. Permission: `see recalls`. */
export async function uncheckedSources(db: Db, actor: Actor, { now }: { readonly now: Date }): Promise<NoticeSource[]> {
  requirePermission(actor, "see recalls");
  const sources = await findSources(db, actor.organisationId);
  return sources.filter((source) => isUnchecked(sourceState(source, now)));
}

export const checksAPage = 25;

/** A page of the account of checks: which version stood where when, and what became of it. Permission: `see recalls`. */
export async function listChecks(db: Db, actor: Actor, { sourceId, page }: { readonly sourceId?: string; readonly page: number }) {
  requirePermission(actor, "see recalls");
  const part = { skip: (page - 1) * checksAPage, take: checksAPage, ...(sourceId === undefined ? {} : { sourceId }) };
  const [rows, total] = await Promise.all([findChecks(db, actor.organisationId, part), countChecks(db, actor.organisationId, sourceId)]);
  return { rows, total };
}
export type ShownCheck = Awaited<ReturnType<typeof listChecks>>["rows"][number];
