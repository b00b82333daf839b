import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { packFileName } from "@/lib/documents/site-pack";
import { endOfDay, siteDay } from "@/lib/registry/as-of";
import { getSite } from "@/lib/registry/place-building";
import type { Db } from "@/lib/store/client";
import { findPersonName } from "@/lib/store/import-queries";
import { askCancel, findJobsLike, type Job, queueJobOnce } from "@/lib/store/job-queries";
import { findKeptPacks, findPackFile, type KeptPack } from "@/lib/store/kept-pack-queries";
import { type PackPayload, packDays, packJobId, packJobStart, sitePackKind } from "./site-pack-job";

export interface SitePackAsked extends PackPayload {
  readonly now: Date;
}

async function packSite(db: Db, actor: Actor, siteId: string) {
  const site = await getSite(db, actor, siteId);
  requirePermission(actor, "make site packs", site.id);
  return site;
}

/** Asks for the pack of a site and day; whoever asks while it is being made gets that one. Permission: `make site packs`. */
export async function askSitePack(db: Db, actor: Actor, { siteId, day, now }: SitePackAsked): Promise<{ id: string }> {
  const site = await packSite(db, actor, siteId);
  endOfDay(site.timeZone, day, now);
  const { organisationId, userId } = actor;
  const payload: PackPayload = { siteId, day };
  const id = packJobId(payload);
  await queueJobOnce(db, { id, organisationId, kind: sitePackKind, payload, byUserId: userId, at: now });
  return { id };
}

/** Asks that a pack be no longer made. An earlier one of the same day stays. Permission: `make site packs`. */
export async function stopSitePack(db: Db, actor: Actor, { siteId, day, now }: SitePackAsked): Promise<void> {
  await packSite(db, actor, siteId);
  await askCancel(db, actor.organisationId, packJobId({ siteId, day }), now);
}

/** A pack being made, or why the last try of a day came to nothing. */
export interface PackWork extends Pick<Job, "state" | "done" | "total" | "cancelAsked" | "message" | "startedAt"> {
  readonly day: string;
}

export interface ShownPack extends KeptPack {
  readonly byName: string | null;
  readonly keptUntil: Date;
}

export interface SitePacks {
  readonly site: { readonly id: string; readonly name: string; readonly timeZone: string | null };
  /** Today by the site's clock. */
  readonly today: string;
  readonly atWork: readonly PackWork[];
  readonly failed: readonly PackWork[];
  readonly packs: readonly ShownPack[];
}

const keptMs = packDays * 86_400_000;

/** What is kept and made of a site's packs. Permission: `make site packs`. */
export async function viewSitePacks(db: Db, actor: Actor, { siteId, now }: { siteId: string; now: Date }): Promise<SitePacks> {
  const site = await packSite(db, actor, siteId);
  const { organisationId } = actor;
  const [kept, jobs] = await Promise.all([
    findKeptPacks(db, organisationId, siteId),
    findJobsLike(db, { organisationId, kind: sitePackKind, start: packJobStart(siteId) }),
  ]);
  const works = jobs.map((job) => ({ ...job, day: (job.payload as unknown as PackPayload).day }));
  const names = new Map<string, string | null>();
  for (const id of new Set(kept.flatMap(({ byUserId }) => byUserId ?? []))) names.set(id, await findPersonName(db, id));
  return {
    site,
    today: siteDay(site.timeZone, now),
    atWork: works.filter(({ state }) => state === "waiting" || state === "running"),
    failed: works.filter(({ state, finishedAt }) => state === "failed" && now.getTime() - (finishedAt?.getTime() ?? 0) < keptMs),
    packs: kept.map((pack) => ({
      ...pack,
      byName: names.get(pack.byUserId ?? "") ?? null,
      keptUntil: new Date(pack.madeAt.getTime() + keptMs),
    })),
  };
}

/** One file of a kept pack. Throws `Trouble` where none is kept. Permission: `make site packs`. */
export async function openPackFile(
  db: Db,
  actor: Actor,
  { siteId, day, file }: PackPayload & { readonly file: "document" | "tables" },
): Promise<{ bytes: Uint8Array<ArrayBuffer>; name: string; mediaType: string }> {
  const site = await packSite(db, actor, siteId);
  const bytes = await findPackFile(db, packJobId({ siteId, day }), file);
  if (bytes === null) throw new Trouble("not_found", `No pack of ${day} is kept: make it again.`);
  const [ending, mediaType] = file === "document" ? (["pdf", "application/pdf"] as const) : (["zip", "application/zip"] as const);
  return { bytes, name: packFileName(site.name, day, ending), mediaType };
}
