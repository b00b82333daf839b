import { headText } from "@/lib/store/record-head";
import { type SiteThen, whereThen } from "./site-then";

type Cell = string | number | null;

/** A table of a site's state on a day, as it goes out. */
export interface ThenTable {
  readonly columns: readonly string[];
  readonly rows: (known: SiteThen) => Cell[][];
}

const instant = (at: Date | null) => at?.toISOString() ?? null;
const yesNo = (is: boolean) => (is ? "yes" : "no");

/** The tables of a site's state on a day. Each row carries the instant and the record's end that it was known by. */
export const thenTables = {
  appliances: {
    columns: [
      ...["tag", "state", "unit", "outlet", "receptacle", "seen_there", "category", "brand", "model", "serial", "date_code"],
      ...["rated_volts", "rated_hertz", "rated_watts", "rated_amps", "recorded", "certain"],
    ],
    rows: ({ found, names }) =>
      found.map((row) => [
        ...[row.tag, row.state, names.units.get(row.unitId ?? "") ?? null, names.outlets.get(row.outletId ?? "") ?? null],
        ...[row.receptacle, yesNo(row.isSeen), row.category, row.brand, row.model, row.serial, row.dateCode],
        ...[row.ratedVolts, row.ratedHertz, row.ratedWatts, row.ratedAmps, instant(row.createdAt), yesNo(row.isCertain)],
      ]),
  },
  findings: {
    columns: ["signal_word", "state", "cause", "sentence", "tag", "outlet", "circuit", "opened", "due", "due_is_known", "owner"],
    rows: ({ openFindings, names }) =>
      openFindings.map((row) => [
        ...[row.signalWord, row.state, row.cause, row.sentence, names.appliances.get(row.applianceId ?? "")?.tag ?? null],
        ...[names.outlets.get(row.outletId ?? "") ?? null, names.circuits.get(row.circuitId ?? "") ?? null],
        ...[instant(row.openedAt), instant(row.dueAt), yesNo(row.dueAt !== null), names.people.get(row.ownerId ?? "") ?? null],
      ]),
  },
  recalls: {
    columns: ["tag", "place", "source", "notice", "title", "grade", "question", "raised"],
    rows: ({ then, names }) =>
      then.open.map((row) => {
        const notice = then.notices.get(row.noticeId);
        const appliance = names.appliances.get(row.applianceId);
        return [
          ...[appliance?.tag ?? null, appliance ? whereThen(appliance, names) : null, notice?.source ?? null],
          ...[notice?.number ?? null, notice?.title ?? null, row.grade, row.question, instant(row.raisedAt)],
        ];
      }),
  },
  decisions: {
    columns: ["tag", "source", "notice", "title", "verdict", "reason", "by", "at", "stood"],
    rows: ({ then, names }) =>
      then.decisions.map((row) => {
        const notice = then.notices.get(row.noticeId);
        const by = row.byUserId === null ? "command line" : (names.people.get(row.byUserId) ?? "somebody who has left");
        return [
          ...[names.appliances.get(row.applianceId)?.tag ?? null, notice?.source ?? null, notice?.number ?? null, notice?.title ?? null],
          ...[row.verdict, row.reason, by, instant(row.at), yesNo(row.stood)],
        ];
      }),
  },
} as const satisfies Readonly<Record<string, ThenTable>>;

export type ThenTableName = keyof typeof thenTables;
export const thenTableNames = Object.keys(thenTables) as [ThenTableName, ...ThenTableName[]];

/** The columns that every row of these tables ends with. */
export const thenStamp = ["known_at", "record_head"] as const;

/** The rows of one table, each with the instant and the record's end it was known by. */
export function thenRows(name: ThenTableName, known: SiteThen): Cell[][] {
  const { at, head } = known.then;
  const stamp = [at.toISOString(), head === null ? null : headText(head)];
  return thenTables[name].rows(known).map((row) => [...row, ...stamp]);
}
