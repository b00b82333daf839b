import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import type { Db } from "@/lib/store/client";
import { entriesOf, provedNotices, setAsideOf } from "@/lib/store/proof-queries";
import { type ListCheckRow, type ListLoadRow, listChecksBy, listLoadsBy } from "@/lib/store/site-pack-queries";

/** The version of a list that is compared with, and how old it is. */
export interface ProofList {
  readonly load: ListLoadRow;
  /** How many versions or parts of it were loaded in all, and since when. */
  readonly loads: number;
  readonly firstLoadedAt: Date;
  /** Records of the version that could not be read: nothing was compared with them. */
  readonly setAside: number;
  /** The date of its newest notice, as the list gives it. */
  readonly newest: string | null;
  /** Its notices in the registry, those that the list dropped since included. */
  readonly notices: number;
  /** The last look at its publisher's address, where it is fetched. */
  readonly look: ListCheckRow | null;
}

const keyOf = ({ source, format }: { readonly source: string; readonly format: string }) => `${source}\n${format}`;

/** The lists that the registry is compared with, each with its latest version, by name. */
export async function proofLists(db: Db, organisationId: string, now: Date): Promise<ProofList[]> {
  const [loads, checks, notices] = await Promise.all([
    listLoadsBy(db, organisationId, now),
    listChecksBy(db, organisationId, now),
    provedNotices(db, organisationId),
  ]);
  const groups = new Map<string, ListLoadRow[]>();
  for (const load of loads) groups.set(keyOf(load), [...(groups.get(keyOf(load)) ?? []), load]);
  const own = new Map<string, { count: number; newest: string | null }>();
  for (const notice of notices) {
    const sum = own.get(keyOf(notice)) ?? { count: 0, newest: null };
    const newest = notice.date !== null && (sum.newest === null || notice.date > sum.newest) ? notice.date : sum.newest;
    own.set(keyOf(notice), { count: sum.count + 1, newest });
  }
  const latest = [...groups.values()].flatMap(([load]) => (load ? [load] : []));
  const setAside = await setAsideOf(
    db,
    latest.map(({ importRunId }) => importRunId),
  );
  return latest
    .map((load) => {
      const versions = groups.get(keyOf(load)) ?? [];
      const { count = 0, newest = null } = own.get(keyOf(load)) ?? {};
      return {
        ...{ load, loads: versions.length, firstLoadedAt: (versions.at(-1) ?? load).loadedAt, newest, notices: count },
        setAside: setAside.get(load.importRunId ?? "") ?? 0,
        look: lookAt(load, versions, checks),
      };
    })
    .sort((a, b) => (keyOf(a.load) < keyOf(b.load) ? -1 : 1));
}

/** The last look at the address that a list was fetched from; a fetched version is known by its hash. */
function lookAt(load: ListLoadRow, versions: readonly ListLoadRow[], checks: readonly ListCheckRow[]): ListCheckRow | null {
  const hashes = new Set([load, ...versions].map(({ fileHash }) => fileHash));
  const source = checks.find(({ fileHash, outcome }) => fileHash !== null && outcome !== "refused" && hashes.has(fileHash))?.sourceId;
  return checks.find(({ sourceId }) => sourceId === source) ?? null;
}

/** Something that led to a comparison, or a look that found nothing new to compare. */
export interface ProofEvent {
  readonly at: Date;
  readonly list: string | null;
  readonly what: string;
  readonly hash: string | null;
  readonly notices: number | null;
  readonly runId: string | null;
}

const lookWords: Readonly<Record<ListCheckRow["outcome"], string>> = {
  loaded: "looked at its address: a new version, taken in",
  unchanged: "looked at its address: still the version we have",
  held: "looked at its address: held for a person",
  refused: "looked at its address: refused",
  failed: "looked at its address: failed",
};

const loadEvent = (load: ListLoadRow): ProofEvent => ({
  ...{ at: load.loadedAt, list: load.source, hash: load.fileHash, notices: load.records, runId: load.importRunId },
  what: `loaded: ${load.fresh} new and ${load.amended} amended notices compared, ${load.unchanged} as before, ${load.gone} gone`,
});

const lookEvent = (check: ListCheckRow): ProofEvent => ({
  ...{ at: check.at, list: check.source.name, hash: check.fileHash, notices: check.notices, runId: null },
  what: lookWords[check.outcome],
});

const mostEntries = 500;

/**
 * Which version of which list was loaded or looked at when, the latest first; with an appliance also what was recorded of it, since
 * each recording and each change of its label compares it with every list loaded by then. Permission: `see recalls`.
 */
export async function proofEvents(
  db: Db,
  actor: Actor,
  { now, appliance }: { readonly now: Date; readonly appliance: { readonly id: string; readonly createdAt: Date } | null },
): Promise<ProofEvent[]> {
  requirePermission(actor, "see recalls");
  const { organisationId } = actor;
  const [loads, checks, entries] = await Promise.all([
    listLoadsBy(db, organisationId, now),
    listChecksBy(db, organisationId, now),
    appliance ? entriesOf(db, organisationId, appliance.id, mostEntries) : [],
  ]);
  const own = entries.map(({ at, what }) => ({
    at,
    list: null,
    what: `of the appliance: ${what}`,
    hash: null,
    notices: null,
    runId: null,
  }));
  const recorded = appliance
    ? [{ at: appliance.createdAt, list: null, what: "the appliance was recorded", hash: null, notices: null, runId: null }]
    : [];
  const all = [...loads.map(loadEvent), ...checks.map(lookEvent), ...own, ...recorded];
  return all.sort((a, b) => b.at.getTime() - a.at.getTime());
}
