import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { causeWords, isFindingCause } from "@/lib/casework/cause";
import { signalWords } from "@/lib/casework/signal-word";
import type { Db } from "@/lib/store/client";
import { type FindingThings, thingsOf } from "@/lib/store/finding-list-queries";
import { findRuns } from "@/lib/store/import-queries";
import { keptFrom, keptUntil } from "@/lib/store/kept-log-queries";
import { lastReadingAt, meteredOutlets } from "@/lib/store/reading-queries";
import { findResultPage, type ResultFilter, type ResultSort, type ScreeningResultRow } from "@/lib/store/screening-queries";
import { addressChoice, addressPage, addressText } from "./address-fields";
import { nameKey, receptacleWords } from "./place-name";

export const resultsAPage = 25;
export const outletsShown = 24;

/** Kinds of screening result, in the order a list offers them. */
export const resultKinds = Object.keys(causeWords).filter(
  (cause) => cause !== "recall" && cause !== "by hand" && cause !== "drawing_out_of_use",
);

/** The page's state in its address. What cannot be read is left out, so that an old link still opens. */
export const readingsQuery = z.object({
  kind: addressChoice(resultKinds),
  word: addressChoice(signalWords),
  site: addressText,
  sort: addressChoice(["from", "ratio", "kind"]),
  order: addressChoice(["asc", "desc"]),
  page: addressPage,
  find: addressText,
  outlet: addressText,
  range: addressText,
});
export type ReadingsQuery = z.output<typeof readingsQuery>;

export function resultOrder(query: ReadingsQuery): { sort: ResultSort; order: "asc" | "desc" } {
  return { sort: query.sort ?? "from", order: query.order === "asc" ? "asc" : "desc" };
}

/** A screening result with the names of its ids. */
export interface ShownResult {
  readonly row: ScreeningResultRow;
  readonly words: string;
  readonly reasons: readonly string[];
  readonly site: string;
  readonly spot: string | null;
  readonly timeZone: string;
  readonly appliance: NonNullable<ReturnType<FindingThings["appliances"]["get"]>> | null;
}

async function showResults(db: Db, rows: readonly ScreeningResultRow[]): Promise<ShownResult[]> {
  const things = await thingsOf(
    db,
    rows.map((row) => ({ ...row, siteId: row.siteId ?? "", ownerId: null })),
  );
  return rows.map((row) => {
    const site = things.sites.get(row.siteId ?? "");
    const outlet = things.outlets.get(row.outletId ?? "");
    const circuit = things.circuits.get(row.circuitId ?? "");
    const receptacle = outlet ? receptacleWords(row.receptacle, outlet.receptacles) : null;
    const atOutlet = outlet ? `outlet ${outlet.name}${receptacle === null ? "" : `, ${receptacle}`}` : null;
    return {
      row,
      words: isFindingCause(row.kind) ? causeWords[row.kind] : row.kind,
      reasons: row.reasons as unknown as string[],
      site: site?.name ?? "the site",
      spot: atOutlet ?? (circuit ? `circuit ${circuit.name}` : null),
      timeZone: site?.timeZone ?? "UTC",
      appliance: things.appliances.get(row.applianceId ?? "") ?? null,
    };
  });
}

function resultFilter(actor: Actor, query: ReadingsQuery): ResultFilter {
  return {
    organisationId: actor.organisationId,
    siteIds: actor.siteIds === "all" ? null : actor.siteIds,
    siteId: query.site,
    signalWord: query.word,
    kinds: query.kind === undefined ? undefined : [query.kind],
  };
}

/** What the readings page shows: the results the address asks for, the loads, and the outlets with readings. Permission: `see readings`. */
export async function readingsOverview(db: Db, actor: Actor, query: ReadingsQuery) {
  requirePermission(actor, "see readings");
  const { organisationId } = actor;
  const siteIds = actor.siteIds === "all" ? null : actor.siteIds;
  const page = query.page ?? 1;
  const { rows, total } = await findResultPage(db, resultFilter(actor, query), {
    ...resultOrder(query),
    skip: (page - 1) * resultsAPage,
    take: resultsAPage,
  });
  const outlets = await meteredOutlets(db, { organisationId, siteIds, words: nameKey(query.find ?? ""), take: outletsShown + 1 });
  const lastAt = await Promise.all(outlets.map(({ id }) => lastReadingAt(db, { organisationId, outletId: id })));
  return {
    results: await showResults(db, rows),
    total,
    page,
    pages: Math.max(1, Math.ceil(total / resultsAPage)),
    runs: await findRuns(db, organisationId, ["log"], { skip: 0, take: 8 }),
    outlets: outlets.slice(0, outletsShown).map((outlet, i) => ({ ...outlet, lastAt: lastAt[i] ?? null })),
    moreOutlets: outlets.length > outletsShown,
    from: await keptFrom(db, organisationId),
    until: await keptUntil(db, organisationId),
  };
}

export type ReadingsOverview = Awaited<ReturnType<typeof readingsOverview>>;

/** All results that the address asks for, a page at a time, for an export. Permission: `see readings`. */
export async function* exportResults(db: Db, actor: Actor, query: ReadingsQuery): AsyncGenerator<ShownResult[]> {
  requirePermission(actor, "see readings");
  for (let skip = 0; ; skip += 500) {
    const { rows } = await findResultPage(db, resultFilter(actor, query), { ...resultOrder(query), skip, take: 500 });
    if (rows.length === 0) return;
    yield await showResults(db, rows);
  }
}
