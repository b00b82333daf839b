import { createHash } from "node:crypto";
import type { PlacedResult } from "@/lib/casework/screening-finding";
import { tagKey } from "@/lib/identity/tag-code";
import type { Db } from "@/lib/store/client";
import { type KeptReading, keptFrom } from "@/lib/store/kept-log-queries";
import type { SeenDraw } from "@/lib/store/reading-queries";
import { canonicalJson } from "@/lib/store/record";
import { type ScreeningPolicy, screeningPolicy } from "@/lib/watch/policy";
import { makeScreening, type Screening, type ScreeningCounts, type ScreeningInput } from "@/lib/watch/screening";
import type { ScreeningResult } from "@/lib/watch/screening-result";
import type { Trip } from "@/lib/watch/trip";
import { type LogPlan, type PlannedAppliance, plannedOutlet, readLoggedAppliances, readSitePlan } from "./log-plan";
import { placeResults } from "./placed-results";
import { SeenDraws } from "./seen-draws";
import type { Checkpoint, CheckpointNotes } from "./site-checkpoint";
import { policyOfSite } from "./site-policy";

const reorderMs = screeningPolicy.reorderSeconds * 1000;

/** What a site's readings are judged by. */
export interface SiteGround {
  readonly organisationId: string;
  readonly siteId: string;
  readonly plan: LogPlan;
  readonly appliances: readonly PlannedAppliance[];
  readonly policy: ScreeningPolicy;
  /** Tells whether plan, plates and policy are those that a checkpoint was made with. */
  readonly hash: string;
}

/** Reads what a site's readings are judged by now. `tags` are the folded tags seen in its readings. */
export async function readSiteGround(
  db: Db,
  { organisationId, siteId, tags }: { readonly organisationId: string; readonly siteId: string; readonly tags: readonly string[] },
): Promise<SiteGround> {
  const plan = await readSitePlan(db, organisationId, siteId);
  const fromAt = (await keptFrom(db, organisationId, siteId)) ?? new Date(0);
  const appliances = await readLoggedAppliances(db, plan, { organisationId, siteId, fromAt, tagKeys: tags });
  const policy = await policyOfSite(db, siteId);
  const ground = [plan.outlets.map(plannedOutlet), appliances.map(({ screened }) => screened), policy];
  return { organisationId, siteId, plan, appliances, policy, hash: createHash("sha256").update(canonicalJson(ground)).digest("hex") };
}

/** What a judge has found since it was last asked. */
export interface JudgedSite {
  /** Over for good, and what would be found if the readings ended now. */
  readonly settled: readonly PlacedResult[];
  readonly open: readonly PlacedResult[];
  readonly all: readonly ScreeningResult[];
  readonly newestMs: number;
}

/** Judges one site's readings as they come, and can hand over to another judge by a checkpoint. */
export class SiteJudge {
  private readonly screening: Screening;
  private readonly draws: SeenDraws;
  private readonly newest: Map<string, number>;
  private readonly tags: Set<string>;
  private readonly knownTags: ReadonlySet<string>;
  /** Tags as written that were looked at already. */
  private readonly texts = new Set<string>();

  /** Goes on from a checkpoint, or begins afresh. Throws `UnreadableState` when the checkpoint is of another version of the engine. */
  constructor(
    readonly ground: SiteGround,
    checkpoint: Checkpoint | null,
  ) {
    this.screening = makeScreening({ ...this.input, state: checkpoint?.state });
    this.draws = new SeenDraws(ground.plan, ground.appliances);
    if (checkpoint) this.draws.restore(checkpoint.notes.draws);
    this.newest = new Map(Object.entries(checkpoint?.notes.newest ?? {}));
    this.tags = new Set(checkpoint?.notes.tags ?? []);
    this.knownTags = new Set(ground.appliances.map(({ row }) => row.tagKey));
  }

  private get input(): ScreeningInput {
    const { plan, appliances, policy } = this.ground;
    return { outlets: plan.outlets.map(plannedOutlet), appliances: appliances.map(({ screened }) => screened), policy };
  }

  /** The folded tags among rows that were not seen at this site before; its appliances must be known before the rows are taken. */
  newTags(rows: readonly KeptReading[]): string[] {
    const fresh = new Set<string>();
    for (const { tag } of rows) {
      if (tag === null || this.texts.has(tag)) continue;
      const key = tagKey(tag);
      if (key !== "" && !this.tags.has(key) && !this.knownTags.has(key)) fresh.add(key);
    }
    return [...fresh];
  }

  /** Whether rows of a load belong before rows of other loads that were judged already, by more than the reorder window. */
  isLate(load: string, rows: readonly KeptReading[]): boolean {
    const first = Math.max(rows[0]?.atMs ?? Number.POSITIVE_INFINITY, this.newest.get(load) ?? Number.NEGATIVE_INFINITY);
    let others = Number.NEGATIVE_INFINITY;
    for (const [other, newest] of this.newest) if (other !== load) others = Math.max(others, newest);
    return first < others - reorderMs;
  }

  take(load: string, rows: readonly KeptReading[]): void {
    let newest = this.newest.get(load) ?? Number.NEGATIVE_INFINITY;
    for (const row of rows) {
      const outlet = this.ground.plan.byId.get(row.outletId);
      if (!outlet) continue;
      const { outletId: _, ...reading } = row;
      this.screening.take({ ...reading, outlet: outlet.name });
      this.draws.take(row);
      if (row.tag !== null && !this.texts.has(row.tag)) {
        this.texts.add(row.tag);
        this.tags.add(tagKey(row.tag));
      }
      if (row.atMs > newest) newest = row.atMs;
    }
    if (Number.isFinite(newest)) this.newest.set(load, newest);
  }

  get newestMs(): number {
    return Math.max(0, ...this.newest.values());
  }

  /** Every trip told so far. */
  trips(): Trip[] {
    return this.screening.trips();
  }

  judged(): JudgedSite {
    const { settled, open } = this.screening.takeResults();
    const { plan, appliances } = this.ground;
    const place = (results: readonly ScreeningResult[]) => placeResults(results, plan, appliances);
    const { newestMs } = this;
    return { settled: place(settled), open: place(open), all: [...settled, ...open], newestMs };
  }

  /** Steady draws larger than the registry has seen. */
  raisedDraws(): SeenDraw[] {
    return this.draws.changes(true);
  }

  /** After everything was judged anew: the largest draws of the site's own appliances as they are, unless older readings are gone. */
  drawsAnew(isCut: boolean): SeenDraw[] {
    const home = new Set(this.ground.appliances.filter(({ row }) => row.siteId === this.ground.siteId).map(({ row }) => row.id));
    return this.draws.changes(isCut).filter(({ applianceId }) => home.has(applianceId));
  }

  noteDraws(draws: readonly SeenDraw[]): void {
    this.draws.note(draws);
  }

  /** Rows read, judged and set aside since the beginning of what is kept. */
  counts(): ScreeningCounts {
    return makeScreening({ ...this.input, state: this.screening.saveState() }).finish().counts;
  }

  save(rest: Pick<CheckpointNotes, "open" | "thinning">): Checkpoint {
    const notes = { ...rest, newest: Object.fromEntries(this.newest), tags: [...this.tags], draws: this.draws.save() };
    return { notes, state: this.screening.saveState() };
  }
}
