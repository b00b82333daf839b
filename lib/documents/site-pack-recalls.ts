import { gradeInWords } from "@/lib/matching/candidate";
import type { NoticeThen, SiteAsOf } from "@/lib/registry/as-of";
import { verdictWords } from "@/lib/registry/decision-standing";
import type { ListCheckRow, ListLoadRow } from "@/lib/store/site-pack-queries";
import { both, byTexts, type PackNames, type PackSection, placeColumns } from "./site-pack-section";

/** Candidates that nobody has decided on, and labels that are to be read. */
export function recallSection(then: SiteAsOf, names: PackNames): PackSection {
  const appliances = new Map(then.appliances.map((row) => [row.id, row]));
  return {
    key: "undecided_recalls",
    head: "Recalls not decided",
    knownAsOf: "The day; grade and question as last compared.",
    note: "Until it is decided treat the appliance as covered: stop using it.",
    empty: "No appliance waited for a decision. No match found does not mean not recalled.",
    columns: [
      both("tag", "Tag", 50, "code"),
      both("brand", "Maker", 52, "plate"),
      both("model", "Model", 50, "plate"),
      ...placeColumns(84),
      both("grade", "Grade", 42),
      both("notice", "Notice", 38, "code"),
      both("title", "In the notice's words", 112, "theirs"),
      both("question", "What to read", 72),
      both("raised", "Since", 44, "figure"),
    ],
    rows: then.open.map((row) => {
      const appliance = appliances.get(row.applianceId);
      const notice = then.notices.get(row.noticeId);
      const plate = [appliance?.tag ?? null, appliance?.brand ?? null, appliance?.model ?? null];
      const place = appliance ?? { unitId: null, outletId: null, receptacle: null };
      const words = [notice?.number ?? null, notice?.title ?? null, row.question, names.day(row.raisedAt)];
      return [...plate, names.where(place), ...names.place(place), gradeInWords(row.grade), ...words];
    }),
  };
}

/** What was decided on candidates, with the reasons. */
export function decisionSection(then: SiteAsOf, names: PackNames): PackSection {
  const tags = new Map(then.appliances.map(({ id, tag }) => [id, tag]));
  return {
    key: "decisions",
    head: "Decisions on recalls",
    knownAsOf: "The day; roles as they are now.",
    note: "The latest decision of each appliance and notice. One that was reopened no longer stands. Deciders are named by role.",
    empty: "Nothing was decided.",
    columns: [
      both("tag", "Tag", 50, "code"),
      both("notice", "Notice", 38, "code"),
      both("title", "In the notice's words", 112, "theirs"),
      both("verdict", "Decided", 48),
      both("reason", "Reason", 140),
      both("by_role", "By", 46),
      both("decided", "On", 44, "figure"),
      both("stands", "Stands", 40),
    ],
    rows: then.decisions.map((row) => {
      const notice = then.notices.get(row.noticeId);
      const pair = [tags.get(row.applianceId) ?? null, notice?.number ?? null, notice?.title ?? null];
      const decided = [verdictWords[row.verdict], row.reason, names.roleOf(row.byUserId), names.day(row.at)];
      return [...pair, ...decided, row.stood ? "yes" : "reopened"];
    }),
  };
}

/** Lists of notices, and when each was last loaded and looked at. Rows come the latest first. */
export function listSection(
  then: SiteAsOf,
  names: PackNames,
  { loads, checks }: { readonly loads: readonly ListLoadRow[]; readonly checks: readonly ListCheckRow[] },
): PackSection {
  const latestLoads = new Map([...loads].reverse().map((load) => [`${load.source} ${load.format}`, load])).values();
  const latestChecks = new Map([...checks].reverse().map((check) => [check.sourceId, check])).values();
  const loaded = [...latestLoads].map((row) => [
    ...[row.source, "loaded", names.time(row.loadedAt), String(row.records), row.fileHash, row.fileName],
  ]);
  const looked = [...latestChecks].map((row) => [
    ...[row.source.name, `looked at: ${row.outcome}`, names.time(row.at), row.notices === null ? null : String(row.notices)],
    ...[row.fileHash, row.message],
  ]);
  return {
    key: "recall_lists",
    head: "Recall lists",
    knownAsOf: "The day.",
    note: `${then.notices.size} notices were known. The version is the SHA-256 of the file.`,
    empty: "No recall list was loaded: nothing here says that an appliance is not recalled.",
    columns: [
      both("list", "List", 84, "theirs"),
      both("event", "Last", 50),
      both("at", "When", 64, "figure"),
      both("notices", "Notices", 34, "figure"),
      both("version", "Version", 130, "code"),
      both("file", "File, or what the publisher answered", 110),
    ],
    rows: [...loaded, ...looked].sort(
      byTexts(
        (row) => row[0] ?? "",
        (row) => row[1] ?? "",
      ),
    ),
  };
}

/** Why a notice says nothing of any appliance; null where it was compared. */
function whyNotChecked({ hasIdentifiers, checkedAt }: NoticeThen): string | null {
  if (!hasIdentifiers) return "It names no model, serial, date code or UPC: only a person can tell.";
  return checkedAt === null ? "It has not been compared with the registry yet." : null;
}

/** Notices of the lists that no program can check against a label. */
export function uncheckableSection(then: SiteAsOf): PackSection {
  const listed = [...then.notices.values()]
    .filter(({ isListed }) => isListed)
    .sort(
      byTexts(
        ({ source }) => source,
        ({ number }) => number,
        ({ id }) => id,
      ),
    );
  return {
    key: "notices_not_checked",
    head: "Notices that could not be checked",
    knownAsOf: "Lists of the day; how they were read and compared as it is now.",
    note: "No appliance was cleared by these. Read them, and look for such goods by eye.",
    empty: "Every notice names something to compare with, and was compared. No match found does not mean not recalled.",
    columns: [
      both("list", "List", 70, "theirs"),
      both("notice", "Notice", 50, "code"),
      both("published", "Published", 44, "figure"),
      both("title", "In the notice's words", 200, "theirs"),
      both("why", "Why", 130),
    ],
    rows: listed.flatMap((row) => {
      const why = whyNotChecked(row);
      return why === null ? [] : [[row.source, row.number, row.date, row.title, why]];
    }),
  };
}
