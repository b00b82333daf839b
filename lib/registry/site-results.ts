import type { Actor } from "@/lib/access/actor";
import { isFindingCause } from "@/lib/casework/cause";
import { openOrRefreshFinding, tellNotShown } from "@/lib/casework/findings.run";
import { type PlacedResult, resultFindingKey, screeningFindings } from "@/lib/casework/screening-finding";
import { isSettled } from "@/lib/casework/settled-result";
import type { Db } from "@/lib/store/client";
import { knownFindingKeys } from "@/lib/store/finding-queries";
import { findSiteResults, type ResultScope, replaceResults, type ScreeningResultRow } from "@/lib/store/screening-queries";
import type { ScreeningKind, ScreeningResult, SignalWord } from "@/lib/watch/screening-result";
import { resultRow } from "./placed-results";
import { policyOfSite } from "./site-policy";

/** What results changed. */
export interface ResultAccount {
  readonly created: number;
  readonly updated: number;
  readonly gone: number;
  readonly opened: number;
  readonly refreshed: number;
}

export const noResults: ResultAccount = { created: 0, updated: 0, gone: 0, opened: 0, refreshed: 0 };

export function addResults(a: ResultAccount, b: ResultAccount): ResultAccount {
  return {
    created: a.created + b.created,
    updated: a.updated + b.updated,
    gone: a.gone + b.gone,
    opened: a.opened + b.opened,
    refreshed: a.refreshed + b.refreshed,
  };
}

export interface ResultWork {
  readonly actor: Actor;
  readonly scope: ResultScope;
  readonly placed: readonly PlacedResult[];
  readonly newestMs: number;
  readonly now: Date;
}

/** A stored result as the findings take it; the names of places are not needed there. */
function placedOf(row: ScreeningResultRow): PlacedResult[] {
  const { siteId, circuitId, outletId, applianceId, receptacle, value, limit, ratio } = row;
  if (siteId === null) return [];
  const result: ScreeningResult = {
    kind: row.kind as ScreeningKind,
    site: null,
    circuit: null,
    outlet: null,
    receptacle,
    tag: null,
    fromMs: row.fromAt.getTime(),
    toMs: row.toAt.getTime(),
    value,
    limit,
    unit: row.unit as ScreeningResult["unit"],
    ratio,
    signalWord: row.signalWord as SignalWord,
    reasons: row.reasons as unknown as string[],
  };
  return [{ result, siteId, circuitId, outletId, applianceId }];
}

/**
 * Stores a site's results and opens, refreshes or tells the findings that they ask for; each finding speaks of all stored results of
 * its cause and thing, so that it does not matter in how many steps they came. Permission is the caller's.
 */
export async function storeResults(tx: Db, work: ResultWork): Promise<ResultAccount> {
  const { scope, placed, now } = work;
  const rows = placed.map((one) => resultRow(one, scope.organisationId, now));
  const { created, updated, gone, changed } = await replaceResults(tx, scope, rows);
  const keyOf = ({ result, ...ids }: PlacedResult) => resultFindingKey(result.kind, { ...ids });
  const touched = new Set(placed.filter((_, i) => changed.has(rows[i]?.key ?? "")).map(keyOf));
  const wanted = new Set(placed.map(keyOf));
  const kinds = new Set([...placed.map(({ result }) => result.kind), ...gone.map(({ kind }) => kind)]);
  const stored = kinds.size === 0 ? [] : (await findSiteResults(tx, scope.siteId, [...kinds])).flatMap(placedOf);
  const { opened, refreshed } = await raise(tx, work, { stored, wanted, touched });
  await tellGone(tx, work, { gone, shown: new Set(stored.map(keyOf)) });
  return { created, updated, gone: gone.length, opened, refreshed };
}

interface Raising {
  readonly stored: readonly PlacedResult[];
  readonly wanted: ReadonlySet<string>;
  readonly touched: ReadonlySet<string>;
}

async function raise(tx: Db, { actor, newestMs, now, scope }: ResultWork, { stored, wanted, touched }: Raising) {
  const { organisationId } = actor;
  const policy = await policyOfSite(tx, scope.siteId);
  const settled = stored.filter(({ result }) => isSettled(result, newestMs, policy));
  const findings = screeningFindings(settled).filter(({ key }) => wanted.has(key));
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
  { actor, now }: ResultWork,
  { gone, shown }: { readonly gone: readonly ScreeningResultRow[]; readonly shown: ReadonlySet<string> },
): Promise<void> {
  const keys = gone.flatMap(({ kind, siteId, circuitId, outletId, applianceId }) =>
    siteId !== null && isFindingCause(kind) ? resultFindingKey(kind, { siteId, circuitId, outletId, applianceId }) : [],
  );
  for (const key of new Set(keys)) if (!shown.has(key)) await tellNotShown(tx, { organisationId: actor.organisationId, key, now, actor });
}
