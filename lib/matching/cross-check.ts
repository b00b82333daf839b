import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import type { MakerAgreement } from "@/lib/identity/maker";
import { type ApplianceReading, readAppliance } from "./appliance-reading";
import { askOf } from "./ask";
import type { Candidate } from "./candidate";
import type { CoveredNotice } from "./covered-notice";
import { compareFields, compareModels } from "./findings";
import { type Graded, grade, rejectingLevels } from "./grade";
import { raisePatterns } from "./model-index";
import { reasonsOf, scoreOf } from "./reasons";
import { listsModels, type RecallIndex } from "./recall-index";

export interface CrossCheckOptions {
  /** Also return the pairs that the index raised and the comparison ruled out. */
  readonly all?: boolean;
}

/** The notices that share a key with the appliance: a model in one of its readings, its product number, or its maker where no model can decide. */
function raiseNotices(index: RecallIndex, appliance: ApplianceReading): Set<number> {
  const raised = new Set<number>();
  const found: number[] = [];
  for (const { printed } of appliance.models) raisePatterns(index.models, printed, found);
  for (const pattern of found) raised.add(index.noticeOfPattern[pattern] as number);
  if (appliance.gtin !== null) for (const id of index.byGtin.get(appliance.gtin) ?? []) raised.add(id);
  const { brand } = appliance.facts;
  if (brand === null) return raised;
  const hasModel = appliance.models.length > 0 && !appliance.areFromText;
  const byMaker = hasModel ? index.unlistedByMaker : index.allByMaker;
  for (const maker of index.makers.find(brand).keys()) for (const id of byMaker.get(maker) ?? []) raised.add(id);
  return raised;
}

/** Compares one appliance with one notice, whether or not an index would raise the pair. */
export function comparePair(index: RecallIndex, appliance: ApplianceReading, notice: CoveredNotice): Candidate {
  const { brand } = appliance.facts;
  const makers: ReadonlyMap<number, MakerAgreement> | null = brand === null ? null : index.makers.find(brand);
  const { settings } = index;
  const graded: Graded = { findings: compareFields({ appliance, notice, makers, settings }), appliance, notice, settings };
  const verdict = grade(graded);
  const reasons = reasonsOf(graded);
  return {
    applianceId: appliance.facts.id,
    noticeKey: notice.key,
    grade: verdict.grade,
    score: scoreOf(reasons),
    reasons,
    ask: askOf(graded, verdict),
  };
}

/** The levels that rule a listed model out by themselves, so that the rest need not be compared. */
function isPlainlyOther(index: RecallIndex, appliance: ApplianceReading, notice: CoveredNotice): boolean {
  if (!listsModels(notice) || appliance.models.length === 0) return false;
  if (appliance.gtin !== null && notice.gtins.has(appliance.gtin)) return false;
  const level = compareModels(appliance, notice, index.settings)?.level;
  return level !== undefined && rejectingLevels.has(level);
}

const gradeOrder = { covered: 0, likely: 1, check_label: 2, not_covered: 3 } as const;

/** Candidates in a fixed order: by grade, then score, then the notice's key. */
export function compareCandidates(left: Candidate, right: Candidate): number {
  if (left.grade !== right.grade) return gradeOrder[left.grade] - gradeOrder[right.grade];
  if (left.score !== right.score) return right.score - left.score;
  return left.noticeKey < right.noticeKey ? -1 : left.noticeKey > right.noticeKey ? 1 : 0;
}

/** Compares an appliance with every notice that may concern it. The result depends on nothing but the facts and the list. */
export function crossCheck(index: RecallIndex, appliance: ApplianceFacts, options: CrossCheckOptions = {}): Candidate[] {
  const reading = readAppliance(appliance);
  const candidates: Candidate[] = [];
  for (const id of raiseNotices(index, reading)) {
    const notice = index.notices[id];
    if (!notice || (!options.all && isPlainlyOther(index, reading, notice))) continue;
    const candidate = comparePair(index, reading, notice);
    if (options.all || candidate.grade !== "not_covered") candidates.push(candidate);
  }
  return candidates.sort(compareCandidates);
}
