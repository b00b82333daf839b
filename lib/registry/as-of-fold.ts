import type { ApplianceNow, DecisionRow, FindingNow, RecordedChange, Stay } from "@/lib/store/as-of-queries";

/**
 * Takes recorded changes back: what each named field was before them. `later` is the newest first. A date comes out of the record as
 * text and becomes a date again where the present value is one, or where `dates` names it.
 */
export function takenBack<Row extends object>(present: Row, later: readonly RecordedChange[], dates: ReadonlySet<string>): Row {
  const row = { ...present } as Record<string, unknown>;
  for (const { before } of later) {
    for (const [name, value] of Object.entries(before ?? {})) {
      if (name === "id" || !Object.hasOwn(row, name)) continue;
      row[name] = dates.has(name) && typeof value === "string" ? new Date(value) : value;
    }
  }
  return row as Row;
}

/** Where an appliance was. `isSeen`: a stay covers the instant; else it is the last place known before it. */
export interface PlaceThen {
  readonly siteId: string;
  readonly unitId: string | null;
  readonly outletId: string | null;
  readonly receptacle: string | null;
  readonly isSeen: boolean;
}

/** The place of an instant by the stays of one appliance, the earliest first; `recorded` is what the record leads back to where no stay had begun. */
export function placeThen(stays: readonly Stay[], recorded: Omit<PlaceThen, "isSeen">, at: Date): PlaceThen {
  const begun = stays.filter(({ fromAt }) => fromAt <= at).at(-1);
  const isSeen = begun !== undefined && (begun.toAt === null || begun.toAt > at);
  const from = begun && stays.some(({ fromAt }) => fromAt > at) ? begun : recorded;
  const { siteId, unitId, outletId, receptacle } = from;
  return { siteId, unitId, outletId, receptacle, isSeen };
}

const applianceDates: ReadonlySet<string> = new Set(["retiredAt"]);

export interface ApplianceThen extends ApplianceNow {
  readonly isSeen: boolean;
  /** False where it was changed since by something that left no before and after in the record: the facts may be later ones. */
  readonly isCertain: boolean;
}

/** An appliance as it was at an instant; null where it was not recorded yet. */
export function applianceThen(
  now: ApplianceNow,
  given: { readonly stays: readonly Stay[]; readonly later: readonly RecordedChange[]; readonly at: Date },
): ApplianceThen | null {
  if (now.createdAt > given.at) return null;
  const then = takenBack(now, given.later, applianceDates);
  const place = placeThen(given.stays, then, given.at);
  const lastTold = given.later[0]?.at ?? null;
  const isCertain = now.updatedAt <= given.at || (lastTold !== null && lastTold >= now.updatedAt);
  return { ...then, ...place, retiredAt: then.state === "retired" ? then.retiredAt : null, isCertain };
}

const findingDates: ReadonlySet<string> = new Set(["dueAt", "closedAt"]);

export interface FindingThen extends Omit<FindingNow, "dueAt"> {
  /** Null where the record does not say what it was. */
  readonly dueAt: Date | null;
}

/** Entries about a finding that raised or reopened it before such entries told what they changed. */
function isUntold({ what, before }: RecordedChange): boolean {
  return (what === "finding raised" || what === "finding opened again") && before?.["dueAt"] === undefined;
}

/** A finding as it was at an instant. `earlier` are the entries up to it, the newest first, for what later ones do not tell. */
export function findingThen(
  now: FindingNow,
  given: { readonly later: readonly RecordedChange[]; readonly earlier: readonly RecordedChange[] },
): FindingThen {
  const then: FindingThen = takenBack(now, given.later, findingDates);
  const untold = given.later.filter(isUntold);
  if (untold.length === 0) return then;
  const word = given.earlier.map(({ after }) => after?.["signalWord"]).find((value) => typeof value === "string");
  // The oldest change counts: what stands before it is what stood at the instant.
  const wasClosed = given.later.at(-1)?.what === "finding opened again";
  return {
    ...then,
    dueAt: null,
    ...(typeof word === "string" ? { signalWord: word } : {}),
    ...(wasClosed ? { state: "closed" as const } : {}),
  };
}

/** Whether a decision stood at an instant; a reopened one does no longer. */
export function stoodAt({ at, reopenedAt }: Pick<DecisionRow, "at" | "reopenedAt">, instant: Date): boolean {
  return at <= instant && (reopenedAt === null || reopenedAt > instant);
}

/** The latest decision of each pair that was taken by an instant, with whether it stood then. Give the earliest first. */
export function decisionsThen(rows: readonly DecisionRow[], instant: Date): (DecisionRow & { readonly stood: boolean })[] {
  const latest = new Map<string, DecisionRow>();
  for (const row of rows) if (row.at <= instant) latest.set(`${row.noticeId} ${row.applianceId}`, row);
  return [...latest.values()].map((row) => ({ ...row, stood: stoodAt(row, instant) }));
}

/** Changes of single appliances that files brought in, out of the entries of their runs. */
export function importedChanges(runs: readonly RecordedChange[]): RecordedChange[] {
  return runs.flatMap(({ after, ...entry }) => {
    const changed = (after?.["changed"] ?? {}) as Readonly<
      Record<string, { before: RecordedChange["before"]; after: RecordedChange["after"] }>
    >;
    return Object.entries(changed).map(([subjectId, change]) => ({ ...entry, subjectId, ...change }));
  });
}
