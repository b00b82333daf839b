import type { Actor } from "@/lib/access/actor";
import { recordName } from "@/lib/access/actor";
import type { Db } from "@/lib/store/client";
import { setSeenDraws } from "@/lib/store/reading-queries";
import { appendRecord } from "@/lib/store/record";
import { findCheckpoint, findStream, type StreamChange, type StreamPosition } from "@/lib/store/stream-queries";
import type { ScreeningCounts } from "@/lib/watch/screening";
import type { ScreeningResult } from "@/lib/watch/screening-result";
import { UnreadableState } from "@/lib/watch/state-carrier";
import { isLiveSource } from "./arrival-batch";
import { type FollowStep, readStep } from "./follow-step";
import { type FollowWish, type FollowWritten, moveStream } from "./follow-write";
import { judgeKept, meetTags } from "./judge-kept";
import { resultRow } from "./placed-results";
import { type CheckpointNotes, packCheckpoint, unpackCheckpoint } from "./site-checkpoint";
import { type JudgedSite, readSiteGround, type SiteGround, SiteJudge } from "./site-judge";
import { addResults, noResults, type ResultAccount, storeResults } from "./site-results";
import { thinPending } from "./site-thin-pending";
import { noThinning, SiteThinning, storeThinned, type Thinned } from "./site-thinning";

/** A changed plan or plate is noticed this much later while readings keep coming. */
const groundEveryMs = 30_000;

/** Why everything kept was judged anew instead of going on from the checkpoint. */
export type AnewReason = "first" | "asked" | "ground" | "late" | "engine";

export interface FollowedSite extends ResultAccount {
  readonly siteId: string;
  /** Rows taken from the parts that came since. */
  readonly rows: number;
  /** Null when it went on from the checkpoint. */
  readonly anew: AnewReason | null;
  /** Readings came that belong before others already judged; they are judged in their place by the next judging anew. */
  readonly isStale: boolean;
}

/**
 * Follows one site's readings: takes the parts that came since, thins and judges them, and stores what they gave together with the
 * checkpoint, so that whoever goes on goes on exactly there. Use it under the site's turn; it may be kept between turns.
 */
export class SiteFollower {
  private judge: SiteJudge | null = null;
  private thinning: SiteThinning | null = null;
  private open: readonly string[] = [];
  private position = -1;
  private groundAtMs = Number.NEGATIVE_INFINITY;

  constructor(
    private readonly organisationId: string,
    private readonly siteId: string,
  ) {}

  /** How many rows of each kind were judged since the beginning of what is kept; after a step only. */
  counts(): ScreeningCounts {
    return this.judge?.counts() ?? { read: 0, judged: 0, setAside: {}, apart: 0 };
  }

  /** What is taken of the site's readings is known here, so that nothing need be read again. */
  private isWarm(stream: StreamPosition): boolean {
    return this.judge !== null && this.thinning !== null && stream.screenedPart === this.position && stream.checkpointAt !== null;
  }

  /** Makes ready to go on from where the stream stands; tells why that is not possible. */
  private async prepare(db: Db, stream: StreamPosition, now: Date): Promise<AnewReason | null> {
    if (stream.checkpointAt === null) return "first";
    const isDue = now.getTime() - this.groundAtMs >= groundEveryMs || now.getTime() < this.groundAtMs;
    if (this.isWarm(stream) && !isDue) return null;
    const stored = await findCheckpoint(db, this.siteId);
    const checkpoint = stored === null ? null : unpackCheckpoint(stored);
    if (checkpoint === null) return "engine";
    return this.goOnFrom(db, stream, checkpoint, now);
  }

  private async goOnFrom(
    db: Db,
    stream: StreamPosition,
    checkpoint: NonNullable<ReturnType<typeof unpackCheckpoint>>,
    now: Date,
  ): Promise<AnewReason | null> {
    const { notes } = checkpoint;
    const ground = await readSiteGround(db, { organisationId: this.organisationId, siteId: this.siteId, tags: notes.tags });
    this.groundAtMs = now.getTime();
    if (!this.isWarm(stream) || this.judge?.ground.hash !== ground.hash) {
      try {
        this.judge = new SiteJudge(ground, checkpoint);
      } catch (error) {
        if (error instanceof UnreadableState) return "engine";
        throw error;
      }
      this.begin(db, notes, ground.plan);
      this.position = stream.screenedPart;
    }
    return ground.hash === stream.checkpointHash ? null : "ground";
  }

  private begin(db: Db, notes: Pick<CheckpointNotes, "open" | "thinning">, plan: SiteGround["plan"]): SiteThinning {
    const { organisationId, siteId } = this;
    this.open = notes.open;
    this.thinning = new SiteThinning(db, { organisationId, siteId, plan }, notes.thinning);
    return this.thinning;
  }

  /**
   * Takes everything that came since. `isAnew` decides, when it was found why the kept readings should be judged anew, whether that is
   * done now; a first judging always is.
   */
  async follow(
    wish: FollowWish,
    options: { readonly isAnew: (why: AnewReason) => boolean; readonly endsSeries?: boolean },
  ): Promise<FollowedSite> {
    const { db, siteId, now } = wish;
    const stream = await findStream(db, siteId);
    if (!stream) return { siteId, rows: 0, anew: null, isStale: false, ...noResults };
    const why = (await this.prepare(db, stream, now)) ?? (stream.staleAt === null ? null : "late");
    if (why !== null && (why === "first" || why === "engine" || options.isAnew(why))) return this.judgeAnew(wish, why, options);
    let account = noResults;
    let [rows, isStale] = [0, stream.staleAt !== null];
    for (let step = await readStep(db, siteId, this.position); step !== null; step = await readStep(db, siteId, this.position)) {
      const endsSeries = options.endsSeries === true && step.last >= stream.lastPart;
      const done = await this.take(wish, step, { endsSeries, thinned: stream.thinnedPart });
      account = addResults(account, done.account);
      rows += done.rows;
      isStale ||= done.isLate;
      if (done.isLate && options.isAnew("late")) {
        const anew = await this.judgeAnew(wish, "late", options);
        return { ...anew, ...addResults(account, anew), rows: rows + anew.rows };
      }
    }
    return { siteId, rows, anew: null, isStale, ...account };
  }

  /** A tag of an appliance that the judge does not know yet: it is made known before its rows are taken. */
  private async meetGuests(db: Db, step: FollowStep): Promise<void> {
    const { judge } = this;
    if (!judge || !this.thinning) return;
    const fresh = new Set(step.parts.flatMap(({ rows }) => judge.newTags(rows)));
    if (fresh.size > 0) this.judge = await meetTags(db, judge, [...fresh], { open: this.open, thinning: this.thinning.save() });
  }

  private async take(
    { db, actor, siteId, lease, now }: FollowWish,
    step: FollowStep,
    { endsSeries, thinned: thinnedBefore }: { readonly endsSeries: boolean; readonly thinned: number },
  ) {
    await this.meetGuests(db, step);
    const { judge, thinning } = this;
    if (!judge || !thinning) throw new Error("A site was followed before it was made ready.");
    const thinned: Thinned[] = [];
    let [rows, isLate] = [0, false];
    for (const { part, rows: readings } of step.parts) {
      isLate ||= judge.isLate(part.importRunId, readings);
      judge.take(part.importRunId, readings);
      // A judging anew that broke off has thinned parts already.
      if (part.arrival > thinnedBefore) thinned.push(await thinning.take(readings, isLiveSource(part.importRunId)));
      rows += readings.length;
    }
    if (endsSeries) thinned.push(thinning.end());
    const found = judge.judged();
    const { open, placed } = this.placed(found, now);
    const checkpoint = packCheckpoint(judge.save({ open, thinning: thinning.save() }));
    const { organisationId } = this;
    const keys = [...new Set([...this.open, ...placed.map((one) => resultRow(one, organisationId, now).key)])];
    const draws = judge.raisedDraws();
    const account = await this.store({ db, actor, siteId, lease, now }, this.position, async (tx) => {
      for (const one of thinned) await storeThinned(tx, actor, one, { plan: judge.ground.plan, now });
      await setSeenDraws(tx, draws);
      const stored = await storeResults(tx, { actor, scope: { organisationId, siteId, keys }, placed, newestMs: found.newestMs, now });
      const position = { screenedPart: step.last, thinnedPart: Math.max(step.last, thinnedBefore) };
      const change: StreamChange = { ...position, checkpoint, checkpointHash: judge.ground.hash, checkpointAt: now };
      return { stored, change: isLate ? { ...change, staleAt: now } : change };
    });
    judge.noteDraws(draws);
    this.open = open;
    this.position = step.last;
    return { account, rows, isLate };
  }

  private placed({ settled, open }: JudgedSite, now: Date) {
    const openKeys = open.map((one) => resultRow(one, this.organisationId, now).key);
    return { open: openKeys, placed: [...settled, ...open] };
  }

  private async store(wish: FollowWish, from: number, work: (tx: Db) => Promise<FollowWritten>): Promise<ResultAccount> {
    try {
      return await moveStream(wish, from, work);
    } catch (error) {
      // What is in memory went on without the database: the next turn begins from the stored checkpoint.
      this.judge = null;
      throw error;
    }
  }

  /** Judges everything kept of the site in one pass. */
  async judgeAnew(wish: FollowWish, why: AnewReason, options: { readonly endsSeries?: boolean } = {}): Promise<FollowedSite> {
    const { db, actor, siteId, now } = wish;
    const { organisationId } = this;
    const thinning = await this.beginAnew(db);
    const rows = await thinPending(wish, { ...thinning, endsSeries: options.endsSeries === true });
    const stream = await findStream(db, siteId);
    if (!stream) throw new Error("A site without a stream cannot be judged.");
    // What came in since it was thinned is left to the next step: it must be thinned, too.
    const last = stream.thinnedPart;
    const judge = await judgeKept(db, { organisationId, siteId }, last);
    const found = judge.judged();
    const { open, placed } = this.placed(found, now);
    const checkpoint = packCheckpoint(judge.save({ open, thinning: thinning.thinning.save() }));
    const draws = judge.drawsAnew(stream.rawFrom !== null);
    const account = await this.store(wish, stream.screenedPart, async (tx) => {
      await setSeenDraws(tx, draws);
      const scope = { organisationId, siteId, from: stream.rawFrom };
      const stored = await storeResults(tx, { actor, scope, placed, newestMs: found.newestMs, now });
      const position = { screenedPart: last, checkpoint, checkpointHash: judge.ground.hash, checkpointAt: now };
      await this.record(tx, actor, { stored, why, now });
      return { stored, change: { ...position, staleAt: null, rescreenedAt: now } };
    });
    judge.noteDraws(draws);
    [this.judge, this.open, this.position, this.groundAtMs] = [judge, open, last, now.getTime()];
    this.lastResults = found.all;
    return { siteId, rows, anew: why, isStale: false, ...account };
  }

  /** What the latest judging anew found, for the command line. */
  lastResults: readonly ScreeningResult[] = [];

  /** Thinning that goes on from the stored checkpoint, whatever the engine made of it. */
  private async beginAnew(db: Db): Promise<{ readonly thinning: SiteThinning; readonly plan: SiteGround["plan"] }> {
    const { organisationId, siteId } = this;
    const stored = await findCheckpoint(db, siteId);
    const notes = (stored === null ? null : unpackCheckpoint(stored)?.notes) ?? { open: [], thinning: noThinning };
    const { plan } = await readSiteGround(db, { organisationId, siteId, tags: [] });
    return { thinning: this.begin(db, notes, plan), plan };
  }

  private async record(
    tx: Db,
    actor: Actor,
    { stored, why, now }: { readonly stored: ResultAccount; readonly why: AnewReason; readonly now: Date },
  ) {
    if (stored.created + stored.updated + stored.gone === 0) return;
    const entry = { organisationId: this.organisationId, at: now, actor: recordName(actor), what: "screened readings" };
    await appendRecord(tx, [{ ...entry, subjectKind: "site", subjectId: this.siteId, after: { ...stored, why } }]);
  }
}
