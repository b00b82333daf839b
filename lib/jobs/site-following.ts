import type { Actor } from "@/lib/access/actor";
import { bookEnergy } from "@/lib/registry/energy-book";
import { type AnewReason, type FollowedSite, SiteFollower } from "@/lib/registry/site-follow";
import { takeSiteTurn } from "@/lib/registry/site-turn";
import type { Store } from "@/lib/store/client";
import { LeaseLost } from "@/lib/store/lease-queries";
import { findWaitingStreams, type WaitingStream } from "@/lib/store/stream-queries";

/** Judging anew reads everything kept, so a site's is not done more often than this, and takes at most this share of the time. */
const anewEveryMs = 10 * 60_000;
const anewShare = 0.05;
/** After each site following rests in proportion, so that taking readings in always has most of the time. */
const restShare = 3;
const longestRestMs = 5_000;
const bookEveryMs = 10 * 60_000;
const followersInMemory = 500;

interface Followed {
  readonly follower: SiteFollower;
  nextMs: number;
  anewMs: number;
}

function followingActor(organisationId: string): Actor {
  return { userId: null, name: "arriving readings", organisationId, role: "administrator", siteIds: "all" };
}

export interface FollowingOptions {
  readonly clock: () => Date;
  readonly everyMs: number;
  /** Told of each failure; the site is tried again later. */
  readonly onTrouble?: (siteId: string, error: unknown) => void;
}

/**
 * Follows every site whose readings came in, one after the other: thins and judges what is new, and lets findings open within
 * seconds. Any number of processes may do so at once; each site is one process's at a time.
 */
export class SiteFollowing {
  private readonly sites = new Map<string, Followed>();
  private readonly booked = new Map<string, number>();
  private timer: NodeJS.Timeout | null = null;
  private busy: Promise<void> | null = null;

  constructor(
    private readonly db: Store,
    private readonly options: FollowingOptions,
  ) {}

  start(): void {
    this.timer ??= setInterval(() => void this.wake(), this.options.everyMs).unref();
  }

  /** Follows what is due now; resolves when that is done. */
  wake(): Promise<void> {
    this.busy ??= this.round().finally(() => {
      this.busy = null;
    });
    return this.busy;
  }

  async stop(): Promise<void> {
    if (this.timer) clearInterval(this.timer);
    this.timer = null;
    await this.busy;
  }

  private async round(): Promise<void> {
    try {
      for (const stream of await findWaitingStreams(this.db)) {
        const startedMs = performance.now();
        if (await this.followOne(stream)) await this.rest((performance.now() - startedMs) * restShare);
      }
    } catch (error) {
      this.options.onTrouble?.("", error);
    }
  }

  private rest(ms: number): Promise<void> {
    if (this.timer === null) return Promise.resolve();
    return new Promise((resolve) => setTimeout(resolve, Math.min(ms, longestRestMs)));
  }

  private siteOf({ organisationId, siteId }: WaitingStream): Followed {
    const known = this.sites.get(siteId);
    if (known) return known;
    const oldest = this.sites.keys().next();
    if (this.sites.size >= followersInMemory && !oldest.done) this.sites.delete(oldest.value);
    const site = { follower: new SiteFollower(organisationId, siteId), nextMs: 0, anewMs: 0 };
    this.sites.set(siteId, site);
    return site;
  }

  /** False when the site was not due. */
  private async followOne(stream: WaitingStream): Promise<boolean> {
    const { clock, onTrouble } = this.options;
    const { siteId, organisationId } = stream;
    const now = clock();
    const site = this.siteOf(stream);
    const isAnewDue = this.isAnewDue(site, stream, now);
    if (now.getTime() < site.nextMs || (!stream.hasNew && !isAnewDue)) return false;
    const startedMs = clock().getTime();
    try {
      const wish = { db: this.db, actor: followingActor(organisationId), siteId, now };
      const followed = await takeSiteTurn(
        this.db,
        siteId,
        (lease) => site.follower.follow({ ...wish, lease }, { isAnew: () => isAnewDue }),
        0,
      );
      const took = clock().getTime() - startedMs;
      site.nextMs = clock().getTime() + took;
      this.noteAnew(site, followed, took);
    } catch (error) {
      site.nextMs = clock().getTime() + 10_000;
      if (!(error instanceof LeaseLost)) onTrouble?.(siteId, error);
    }
    await this.book(organisationId, clock().getTime());
    return true;
  }

  private noteAnew(site: Followed, followed: FollowedSite | null, took: number): void {
    const costly: readonly (AnewReason | null | undefined)[] = ["ground", "late"];
    if (costly.includes(followed?.anew)) site.anewMs = took;
  }

  private isAnewDue({ anewMs }: Followed, { rescreenedAt }: WaitingStream, now: Date): boolean {
    const wait = Math.max(anewEveryMs, anewMs / anewShare);
    return rescreenedAt === null || now.getTime() - rescreenedAt.getTime() >= wait;
  }

  private async book(organisationId: string, nowMs: number): Promise<void> {
    if (nowMs - (this.booked.get(organisationId) ?? Number.NEGATIVE_INFINITY) < bookEveryMs) return;
    this.booked.set(organisationId, nowMs);
    await bookEnergy(this.db, followingActor(organisationId), new Date(nowMs));
  }
}
