import { causeWords, isFindingCause } from "@/lib/casework/cause";
import { isOutcome, outcomes } from "@/lib/casework/outcome";
import { stateWords } from "@/lib/casework/step";
import type { SiteAsOf } from "@/lib/registry/as-of";
import { both, type PackCell, type PackNames, type PackPlace, type PackSection, placeColumns, tableOnly } from "./site-pack-section";

type Finding = SiteAsOf["findings"][number];

/** What a finding is about: the tag and place of its appliance, else its outlet, else its circuit. */
function aboutOf(then: SiteAsOf, names: PackNames) {
  const appliances = new Map(then.appliances.map((row) => [row.id, row]));
  return ({ applianceId, outletId, circuitId }: Finding): { tag: PackCell; place: PackPlace; where: PackCell; circuit: PackCell } => {
    const appliance = appliances.get(applianceId ?? "");
    const place = appliance ?? { unitId: null, outletId, receptacle: null };
    const circuit = names.circuit(circuitId);
    return { tag: appliance?.tag ?? null, place, where: names.where(place) ?? (circuit && `circuit ${circuit}`), circuit };
  };
}

const isOpen = ({ state }: Finding) => state !== "closed";

function overdueNote({ findings, at }: SiteAsOf): string {
  const late = findings.filter((row) => isOpen(row) && row.dueAt !== null && row.dueAt <= at).length;
  const overdue = late === 0 ? "None was past its due date." : `${late} ${late === 1 ? "was" : "were"} past the due date.`;
  return `The gravest first. ${overdue} Owners are named by role.`;
}

/** What is open, the gravest first. */
export function findingSection(then: SiteAsOf, names: PackNames): PackSection {
  const about = aboutOf(then, names);
  return {
    key: "open_findings",
    head: "Open findings",
    knownAsOf: "The day; a due date that the record does not tell is “not kept”.",
    note: overdueNote(then),
    empty: "Nothing was open. That is not a verdict that every appliance is safe.",
    columns: [
      both("signal_word", "Word", 57, "word"),
      tableOnly("cause"),
      both("what", "What", 132),
      both("tag", "Tag", 50, "code"),
      ...placeColumns(82),
      tableOnly("circuit"),
      both("state", "State", 44),
      both("opened", "Opened", 44, "figure"),
      both("due", "Due", 44, "figure"),
      both("owner_role", "Owner", 44),
    ],
    rows: then.findings.filter(isOpen).map((row) => {
      const { tag, place, where, circuit } = about(row);
      const what = [row.signalWord, isFindingCause(row.cause) ? causeWords[row.cause] : row.cause, row.sentence, tag];
      const dates = [names.day(row.openedAt), names.day(row.dueAt) ?? "not kept"];
      const owner = row.ownerId === null ? "nobody" : names.roleOf(row.ownerId);
      return [...what, where, ...names.place(place), circuit, stateWords[row.state], ...dates, owner];
    }),
  };
}

/** What became of findings that are closed. */
export function closedSection(then: SiteAsOf, names: PackNames): PackSection {
  const about = aboutOf(then, names);
  const outcomeOf = ({ outcome }: Finding) => (outcome !== null && isOutcome(outcome) ? outcomes[outcome].words : outcome);
  return {
    key: "closed_findings",
    head: "Findings closed",
    knownAsOf: "The day.",
    note: null,
    empty: "No finding was closed.",
    columns: [
      both("signal_word", "Word", 57, "word"),
      both("what", "What", 140),
      both("tag", "Tag", 50, "code"),
      both("outcome", "Outcome", 66),
      both("reason", "Reason", 120),
      both("closed", "Closed", 44, "figure"),
    ],
    rows: then.findings
      .filter((row) => !isOpen(row))
      .map((row) => [row.signalWord, row.sentence, about(row).tag, outcomeOf(row), row.outcomeReason, names.day(row.closedAt)]),
  };
}
