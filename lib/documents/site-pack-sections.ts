import { causeWords, isFindingCause } from "@/lib/casework/cause";
import { isOutcome, outcomes } from "@/lib/casework/outcome";
import { stateWords as caseWords } from "@/lib/casework/step";
import { ratingCells } from "@/lib/electrical/rating-words";
import { ratingOf } from "@/lib/registry/appliance-columns";
import { stateWords } from "@/lib/registry/appliance-state";
import type { SiteAsOf } from "@/lib/registry/as-of";
import type { ApplianceThen } from "@/lib/registry/as-of-fold";

/** How a column is printed: `plate` columns stand together on the strip of the rating plate. */
export type ColumnLook = "text" | "word" | "code" | "plate" | "plate figure" | "figure" | "theirs";

export interface PackColumn {
  /** Its name in the CSV file. */
  readonly name: string;
  readonly label: string;
  /** Share of the paper's width. */
  readonly width: number;
  readonly look: ColumnLook;
}

export interface PackSection {
  readonly key: string;
  readonly head: string;
  readonly note: string | null;
  /** What stands there where nothing is listed. */
  readonly empty: string;
  readonly columns: readonly PackColumn[];
  readonly rows: readonly (readonly (string | null)[])[];
}

export const column = (name: string, label: string, width: number, look: ColumnLook = "text"): PackColumn => ({ name, label, width, look });

/** Days and times of a site's own clock. */
export function siteClock(timeZone: string | null): { day: (at: Date | null) => string | null; time: (at: Date | null) => string | null } {
  const format = new Intl.DateTimeFormat("en-CA", {
    ...({ year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit", minute: "2-digit", hourCycle: "h23" } as const),
    timeZone: timeZone ?? "UTC",
  });
  const parts = (at: Date) => Object.fromEntries(format.formatToParts(at).map(({ type, value }) => [type, value]));
  const day = (at: Date) => {
    const { year, month, day: date } = parts(at);
    return `${year}-${month}-${date}`;
  };
  return {
    day: (at) => (at === null ? null : day(at)),
    time: (at) => {
      if (at === null) return null;
      const { hour, minute } = parts(at);
      return `${day(at)} ${hour}:${minute}`;
    },
  };
}

type Then = Pick<SiteAsOf, "names">;

/** Where something is, in words of the site. */
export function placeWords({ names }: Then, place: Pick<ApplianceThen, "unitId" | "outletId" | "receptacle">): string | null {
  const unit = names.units.find(({ id }) => id === place.unitId)?.name;
  const outlet = names.outlets.find(({ id }) => id === place.outletId)?.name;
  const words = [unit && `unit ${unit}`, outlet && `outlet ${outlet}`, outlet && place.receptacle && `receptacle ${place.receptacle}`];
  return words.filter(Boolean).join(", ") || null;
}

/** A person by their role: packs are handed on, and names stay erasable. The table of who may act alone names them. */
export function roleOf({ names }: Then, userId: string | null): string {
  if (userId === null) return "command line";
  return names.members.find((member) => member.userId === userId)?.role ?? "somebody who has left";
}

const plateColumns = [
  column("brand", "Maker", 13, "plate"),
  column("model", "Model", 13, "plate"),
  column("serial", "Serial", 12, "code"),
  column("volts", "V~", 6, "plate figure"),
  column("hertz", "Hz", 5, "plate figure"),
  column("watts", "W", 6, "plate figure"),
  column("amps", "A", 5, "plate figure"),
];
const applianceColumnsOf = [column("tag", "Tag", 12, "code"), ...plateColumns, column("place", "Where", 24), column("kind", "Kind", 9)];

function applianceRow(places: ReadonlyMap<string, string>, row: ApplianceThen): (string | null)[] {
  const cells = ratingCells(ratingOf(row));
  const key = `${row.unitId} ${row.outletId} ${row.receptacle}`;
  const place = places.get(key) || null;
  return [row.tag, row.brand, row.model, row.serial, cells.volts, cells.hertz, cells.watts, cells.amps, place, row.category];
}

function places(then: SiteAsOf): Map<string, string> {
  const units = new Map(then.names.units.map(({ id, name }) => [id, name]));
  const outlets = new Map(then.names.outlets.map(({ id, name }) => [id, name]));
  return new Map(
    then.appliances.map(({ unitId, outletId, receptacle }) => {
      const unit = unitId === null ? null : units.get(unitId);
      const outlet = outletId === null ? null : outlets.get(outletId);
      const words = [unit && `unit ${unit}`, outlet && `outlet ${outlet}`, outlet && receptacle && `receptacle ${receptacle}`];
      return [`${unitId} ${outletId} ${receptacle}`, words.filter(Boolean).join(", ")];
    }),
  );
}

const stateHeads = { out_of_use: "Appliances out of use", in_use: "Appliances in use", retired: "Appliances retired" } as const;

/** The appliances by state, each as its plate. */
export function applianceSections(then: SiteAsOf): PackSection[] {
  const known = places(then);
  const uncertain = then.appliances.filter(({ isCertain }) => !isCertain).length;
  return (["out_of_use", "in_use", "retired"] as const).map((state) => ({
    key: `appliances_${state}`,
    head: stateHeads[state],
    note:
      uncertain > 0 && state === "in_use"
        ? `Of the appliances of this site ${uncertain} were changed later by something that left no before and after in the record: their labels may be later ones.`
        : null,
    empty: `None is ${stateWords[state]}.`,
    columns: applianceColumnsOf,
    rows: then.appliances.filter((row) => row.state === state).map((row) => applianceRow(known, row)),
  }));
}

/** What is open, the gravest first. */
export function findingSection(then: SiteAsOf): PackSection {
  const { day } = siteClock(then.site.timeZone);
  const appliances = new Map(then.appliances.map((row) => [row.id, row]));
  const spot = (row: SiteAsOf["findings"][number]) => {
    const appliance = appliances.get(row.applianceId ?? "");
    if (appliance) return [appliance.tag, placeWords(then, appliance)].filter(Boolean).join(", ");
    const circuit = then.names.circuits.find(({ id }) => id === row.circuitId)?.name;
    return placeWords(then, { unitId: null, outletId: row.outletId, receptacle: null }) ?? (circuit ? `circuit ${circuit}` : null);
  };
  return {
    key: "open_findings",
    head: "Open findings",
    note: "Owners are named by role. A danger: stop using the appliance and unplug it if the plug is cool and dry.",
    empty: "Nothing was open. That is not a verdict that every appliance is safe.",
    columns: [
      column("signal_word", "Word", 13, "word"),
      column("cause", "Cause", 14),
      column("what", "What", 34),
      column("about", "About", 28),
      column("state", "State", 11),
      column("opened", "Opened", 11, "figure"),
      column("due", "Due", 11, "figure"),
      column("owner", "Owner", 10),
    ],
    rows: then.findings
      .filter(({ state }) => state !== "closed")
      .map((row) => [
        ...[row.signalWord, isFindingCause(row.cause) ? causeWords[row.cause] : row.cause, row.sentence, spot(row), caseWords[row.state]],
        ...[day(row.openedAt), day(row.dueAt) ?? "not kept", row.ownerId === null ? "nobody" : roleOf(then, row.ownerId)],
      ]),
  };
}

const gradeWords: Readonly<Record<string, string>> = {
  covered: "covered",
  likely: "likely",
  check_label: "read the label",
  not_covered: "not covered",
};

/** Candidates that nobody has decided on, and labels that are to be read. */
export function recallSection(then: SiteAsOf): PackSection {
  const { day } = siteClock(then.site.timeZone);
  const appliances = new Map(then.appliances.map((row) => [row.id, row]));
  return {
    key: "unread_recalls",
    head: "Recalls not settled",
    note: "Until it is settled treat the appliance as covered. No match found does not mean not recalled.",
    empty: "No candidate waits for a decision. No match found does not mean not recalled.",
    columns: [
      column("tag", "Tag", 13, "code"),
      column("brand", "Maker", 14, "plate"),
      column("model", "Model", 14, "plate"),
      column("grade", "Grade", 11),
      column("notice", "Notice", 11, "code"),
      column("title", "In the notice's words", 34, "theirs"),
      column("question", "What to read", 26),
      column("raised", "Since", 11, "figure"),
    ],
    rows: then.open.map((row) => {
      const appliance = appliances.get(row.applianceId);
      const notice = then.notices.get(row.noticeId);
      const words = [gradeWords[row.grade] ?? row.grade, notice?.number ?? null, notice?.title ?? null, row.question, day(row.raisedAt)];
      return [appliance?.tag ?? null, appliance?.brand ?? null, appliance?.model ?? null, ...words];
    }),
  };
}

/** What was decided on candidates, with the reasons, and what became of findings that are closed. */
export function decisionSections(then: SiteAsOf): PackSection[] {
  const { day } = siteClock(then.site.timeZone);
  const appliances = new Map(then.appliances.map((row) => [row.id, row]));
  const verdicts: Readonly<Record<string, string>> = { affected: "affected", not_affected: "not affected", unsure: "unsure" };
  return [
    {
      key: "decisions",
      head: "Decisions on recalls",
      note: "The latest decision of each appliance and notice.",
      empty: "Nothing was decided.",
      columns: [
        ...[
          column("tag", "Tag", 13, "code"),
          column("notice", "Notice", 11, "code"),
          column("title", "In the notice's words", 34, "theirs"),
        ],
        ...[
          column("verdict", "Decided", 12),
          column("reason", "Reason", 40),
          column("by", "By", 12),
          column("decided", "On", 11, "figure"),
        ],
        column("stands", "Stands", 9),
      ],
      rows: then.decisions.map((row) => [
        ...[appliances.get(row.applianceId)?.tag ?? null, then.notices.get(row.noticeId)?.number ?? null],
        ...[then.notices.get(row.noticeId)?.title ?? null, verdicts[row.verdict] ?? row.verdict, row.reason, roleOf(then, row.byUserId)],
        ...[day(row.at), row.stood ? "yes" : "reopened"],
      ]),
    },
    {
      key: "closed_findings",
      head: "Findings closed",
      note: null,
      empty: "None was closed.",
      columns: [
        ...[column("signal_word", "Word", 13, "word"), column("what", "What", 40), column("outcome", "Outcome", 16)],
        ...[column("reason", "Reason", 34), column("closed", "Closed", 11, "figure")],
      ],
      rows: then.findings
        .filter(({ state }) => state === "closed")
        .map((row) => [
          ...[row.signalWord, row.sentence, row.outcome !== null && isOutcome(row.outcome) ? outcomes[row.outcome].words : row.outcome],
          ...[row.outcomeReason, day(row.closedAt)],
        ]),
    },
  ];
}

/** Who had an account that reaches the site. The one table that names people. */
export function peopleSection(then: SiteAsOf): PackSection {
  const { day } = siteClock(then.site.timeZone);
  const members = then.names.members.filter(
    ({ createdAt, endedAt, allSites, sites }) =>
      createdAt <= then.at && (endedAt === null || endedAt > then.at) && (allSites || sites.some(({ siteId }) => siteId === then.site.id)),
  );
  return {
    key: "people",
    head: "Who may act",
    note: "Names stand here alone: leave this table out where the pack goes to somebody who need not know them.",
    empty: "Nobody had an account that reaches this site.",
    columns: [column("name", "Name", 30), column("role", "Role", 20), column("reach", "Reach", 20), column("since", "Since", 12, "figure")],
    rows: members
      .map(({ user, role, allSites, createdAt }) => [user.name, role, allSites ? "all sites" : "this and named sites", day(createdAt)])
      .sort((a, b) => (`${a[1]} ${a[0]} ${a[3]}` < `${b[1]} ${b[0]} ${b[3]}` ? -1 : 1)),
  };
}
