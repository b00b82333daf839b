import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { isFindingCause } from "@/lib/casework/cause";
import { openOrRefreshFinding, tellNotShown } from "@/lib/casework/findings.run";
import { type PlacedResult, resultFindingKey, screeningFindings } from "@/lib/casework/screening-finding";
import { isSettled } from "@/lib/casework/settled-result";
import { type LogPlan, plannedOutlet, readLoggedAppliances, readLogPlan } from "@/lib/registry/log-plan";
import { placeResults, resultRow } from "@/lib/registry/placed-results";
import { SeenDraws } from "@/lib/registry/seen-draws";
import type { Db, Store } from "@/lib/store/client";
import { knownFindingKeys } from "@/lib/store/finding-queries";
import { countKeptParts, keptFrom, keptUntil, replayKept } from "@/lib/store/kept-log-queries";
import { type SeenDraw, setSeenDraws } from "@/lib/store/reading-queries";
import { appendRecord } from "@/lib/store/record";
import { replaceResults, type ScreeningResultRow } from "@/lib/store/screening-queries";
import { makeScreening, type ScreeningCounts } from "./screening";
import type { ScreeningResult } from "./screening-result";

/** What a screening of all kept readings found, and what it changed. */
export interface ScreeningAccount {
  readonly counts: ScreeningCounts;
  readonly results: number;
  /** Results that are new, changed, or no longer shown by the readings. */
  readonly created: number;
  readonly updated: number;
  readonly gone: number;
  readonly opened: number;
  readonly refreshed: number;
}

interface Judged {
  readonly parts: number;
  readonly newestMs: number;
  readonly results: readonly PlacedResult[];
  readonly all: readonly ScreeningResult[];
  readonly counts: ScreeningCounts;
  readonly draws: readonly SeenDraw[];
}

/** Judges everything kept of an organisation in one pass, as the stand-alone screening judges a file. Writes nothing. */
async function judgeKept(db: Db, organisationId: string): Promise<Judged> {
  const parts = await countKeptParts(db, organisationId);
  const plan = await readLogPlan(db, { organisationId, siteIds: "all" });
  const appliances = await readLoggedAppliances(db, organisationId, plan, (await keptFrom(db, organisationId)) ?? new Date(0));
  const screening = makeScreening({ outlets: plan.outlets.map(plannedOutlet), appliances: appliances.map(({ screened }) => screened) });
  const draws = new SeenDraws(plan, appliances);
  for await (const rows of replayKept(db, organisationId)) {
    for (const row of rows) {
      const { outletId, ...reading } = row;
      screening.take({ ...reading, outlet: outletName(plan, outletId) });
      draws.take(row);
    }
  }
  const { results, counts } = screening.finish();
  const newestMs = (await keptUntil(db, organisationId))?.getTime() ?? 0;
  return { parts, newestMs, all: results, results: placeResults(results, plan, appliances), counts, draws: draws.changes() };
}

/** An outlet that was taken out of the plan since is nobody's. */
function outletName(plan: LogPlan, outletId: string): string {
  return plan.byId.get(outletId)?.name ?? outletId;
}

const attempts = 5;

export interface Screened {
  readonly account: ScreeningAccount;
  readonly results: readonly ScreeningResult[];
}

/**
 * Screens everything kept and stores the results, the largest steady draws and the findings together. When another load comes in
 * between, it is done again with that load's readings. Permission is the caller's.
 */
export async function screenKept(db: Store, actor: Actor, now: Date): Promise<Screened> {
  for (let attempt = 0; attempt < attempts; attempt++) {
    const judged = await judgeKept(db, actor.organisationId);
    const account = await db.$transaction((tx) => storeJudged(tx, actor, judged, now));
    if (account) return { account, results: judged.all };
  }
  throw new Trouble("changed_meanwhile", "Other logs kept coming in during the screening: screen again when they are done.");
}

/** Null when the kept readings changed since they were judged. */
async function storeJudged(tx: Db, actor: Actor, judged: Judged, now: Date): Promise<ScreeningAccount | null> {
  const { organisationId } = actor;
  if ((await countKeptParts(tx, organisationId)) !== judged.parts) return null;
  const rows = judged.results.map((placed) => resultRow(placed, organisationId, now));
  const replaced = await replaceResults(tx, organisationId, rows);
  const { created, updated } = replaced;
  const gone = replaced.gone.length;
  await setSeenDraws(tx, judged.draws);
  const isChanged = (_: unknown, i: number) => replaced.changed.has(rows[i]?.key ?? "");
  const touched = new Set(judged.results.filter(isChanged).map((placed) => resultFindingKey(placed.result.kind, placed)));
  const { opened, refreshed } = await raiseFindings(tx, actor, { judged, touched, now });
  await tellGone(tx, actor, { judged, gone: replaced.gone, now });
  const account = { counts: judged.counts, results: rows.length, created, updated, gone, opened, refreshed };
  if (created + updated + gone > 0) {
    const subject = { subjectKind: "organisation", subjectId: organisationId };
    await appendRecord(tx, [{ organisationId, at: now, actor: recordName(actor), what: "screened readings", ...subject, after: account }]);
  }
  return account;
}

/** Opens the findings that settled results ask for, and refreshes those whose results are new or measured anew. */
async function raiseFindings(
  tx: Db,
  actor: Actor,
  { judged, touched, now }: { readonly judged: Judged; readonly touched: ReadonlySet<string>; readonly now: Date },
): Promise<{ opened: number; refreshed: number }> {
  const { organisationId } = actor;
  const findings = screeningFindings(judged.results.filter(({ result }) => isSettled(result, judged.newestMs)));
  const known = await knownFindingKeys(
    tx,
    organisationId,
    findings.map(({ key }) => key),
  );
  let [opened, refreshed] = [0, 0];
  for (const finding of findings) {
    if (known.has(finding.key) && !touched.has(finding.key)) continue;
    const { outcome } = await openOrRefreshFinding(tx, { ...finding, organisationId, now, actor });
    if (outcome === "opened" || outcome === "opened again") opened += 1;
    else if (outcome === "refreshed") refreshed += 1;
  }
  return { opened, refreshed };
}

/** Tells the findings whose last result has gone. */
async function tellGone(
  tx: Db,
  actor: Actor,
  { judged, gone, now }: { readonly judged: Judged; readonly gone: readonly ScreeningResultRow[]; readonly now: Date },
): Promise<void> {
  const shown = new Set(judged.results.map((placed) => resultFindingKey(placed.result.kind, placed)));
  const keys = gone.flatMap(({ kind, siteId, circuitId, outletId, applianceId }) =>
    siteId !== null && isFindingCause(kind) ? resultFindingKey(kind, { siteId, circuitId, outletId, applianceId }) : [],
  );
  for (const key of new Set(keys)) if (!shown.has(key)) await tellNotShown(tx, { organisationId: actor.organisationId, key, now, actor });
}

/** What a screening found, as sentences. */
export function screeningWords({ counts, results, opened, refreshed }: ScreeningAccount): string {
  const aside = Object.entries(counts.setAside).map(([reason, count]) => `${count} ${reason.replaceAll("_", " ")}`);
  const judged = `Screened: ${counts.judged} of ${counts.read} kept readings judged${aside.length === 0 ? "" : ` (${aside.join(", ")})`}.`;
  return `${judged} ${results} results stand; ${opened} findings opened, ${refreshed} refreshed.`;
}

/**
 * The registry's own screening: judges everything kept anew with today's plates, places and policy, stores what changed, and gives
 * the results as the stand-alone screening prints them. Readings are kept whole, so nothing has to be guessed from thinned rows.
 */
export async function screenRegistry(db: Store, actor: Actor, { now }: { readonly now: Date }): Promise<Screened> {
  requirePermission(actor, "screen readings");
  return screenKept(db, actor, now);
}
