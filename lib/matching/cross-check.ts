import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { type ApplianceReading, isPlainLookUp, type LookUp, lookUpOf, plainLookUp, readingOf } from "./appliance-reading";
import { askOf } from "./ask";
import type { Candidate, Grade } from "./candidate";
import type { CoveredNotice } from "./covered-notice";
import { type Compared, compareBrand, compareFields, compareModels, compareProduct } from "./findings";
import { brandBeside, firstLook, productBeside } from "./first-look";
import { type Graded, grade, isRuledOutByMaker, type Verdict } from "./grade";
import { type ModelAgreement, rejectingLevels } from "./model-agreement";
import type { ModelPattern } from "./model-pattern";
import { Raised, raiseNotices, raiseScannedNotices } from "./raise";
import { reasonsOf, scoreOf } from "./reasons";
import type { RecallIndex } from "./recall-index";

export interface CrossCheckOptions {
  /** Also return the pairs that the index raised and the comparison ruled out. */
  readonly all?: boolean;
  /** Also return the pairs that a fact other than model and maker rules out, such as a serial number outside its window. */
  readonly ruledOut?: boolean;
  /** `false` leaves out the notices that name no model, serial number, date code or product number, which are answered for a maker's product at once. */
  readonly withoutIdentifiers?: boolean;
}

type MakerAndProduct = Pick<Compared, "brand" | "product">;

interface GradedPair {
  readonly graded: Graded;
  readonly verdict: Verdict;
}

function gradePair(index: RecallIndex, compared: Compared): GradedPair {
  const { appliance, notice } = compared;
  const graded: Graded = { findings: compareFields(compared, index.settings), appliance, notice, settings: index.settings };
  return { graded, verdict: grade(graded) };
}

function explain({ graded, verdict }: GradedPair): Candidate {
  const reasons = reasonsOf(graded);
  return {
    applianceId: graded.appliance.facts.id,
    noticeKey: graded.notice.key,
    grade: verdict.grade,
    score: scoreOf(reasons),
    reasons,
    ask: askOf(graded, verdict),
  };
}

/** Compares one appliance with one notice, whether or not an index would raise the pair. */
export function comparePair(index: RecallIndex, appliance: ApplianceReading, notice: CoveredNotice): Candidate {
  const { brand } = appliance.facts;
  return explain(
    gradePair(index, {
      appliance,
      notice,
      brand: compareBrand(brand, brand === null ? null : index.makers.find(brand), notice),
      product: compareProduct(appliance.category, notice),
      model: compareModels(appliance, notice, index.settings),
    }),
  );
}

/** Whether the models alone rule the pair out, so that the rest need not be compared. */
function isPlainlyOther(appliance: ApplianceReading, notice: CoveredNotice, model: ModelAgreement | null): boolean {
  if (appliance.models.length === 0 || !notice.isListing || (appliance.gtin !== null && notice.gtins.has(appliance.gtin))) return false;
  return model === null || rejectingLevels.has(model.level);
}

const raised = new Raised();

/** The models of a notice that the appliance raised. */
function raisedModels({ listed }: RecallIndex, noticeId: number): ModelPattern[] {
  const models: ModelPattern[] = [];
  const { ids, count } = raised.listed;
  for (let at = 0; at < count; at++) {
    const id = ids[at] as number;
    if (listed.noticeOf[id] === noticeId) models.push(listed.patterns[id] as ModelPattern);
  }
  return models;
}

/** Raises what may concern an appliance; returns what it was looked up by, `null` when nothing may, as for nearly all. */
function raise(index: RecallIndex, facts: ApplianceFacts, options: CrossCheckOptions): LookUp | null {
  const withoutIdentifiers = options.withoutIdentifiers !== false;
  if (options.all !== true && isPlainLookUp(facts, raised.scan)) {
    raiseScannedNotices(index, facts, withoutIdentifiers, raised);
    return raised.notices.count === 0 ? null : plainLookUp(facts);
  }
  const lookUp = lookUpOf(facts);
  raiseNotices(index, lookUp, { neighbours: options.all === true, withoutIdentifiers }, raised);
  return raised.notices.count === 0 ? null : lookUp;
}

/** Whether maker and product rule the pair out, so that the rest need not be compared. */
function isOfAnother({ notices, isListing }: RecallIndex, { upc }: ApplianceFacts, id: number, found: MakerAndProduct): boolean {
  if (!isRuledOutByMaker(found) || isListing[id] === 0) return false;
  return upc === null || notices[id]?.gtins.size === 0;
}

/** Grades the raised pairs; `take` gets those that are not ruled out, or all when asked. */
function eachPair(index: RecallIndex, lookUp: LookUp, options: CrossCheckOptions, take: (pair: GradedPair) => void): void {
  const { facts } = lookUp;
  const all = options.all === true;
  const look = firstLook(index, facts);
  let appliance: ApplianceReading | null = null;
  const { ids, count } = raised.notices;
  for (let at = 0; at < count; at++) {
    const id = ids[at] as number;
    const brand = brandBeside(index, look, id);
    const product = productBeside(index, look, id);
    if (!all && isOfAnother(index, facts, id, { brand, product })) continue;
    appliance ??= readingOf(lookUp);
    const notice = index.notices[id] as CoveredNotice;
    const model = compareModels(appliance, notice, index.settings, all ? notice.include : raisedModels(index, id));
    if (!all && isPlainlyOther(appliance, notice, model)) continue;
    const pair = gradePair(index, { appliance, notice, brand, product, model });
    if (all || pair.verdict.grade !== "not_covered" || (options.ruledOut && brand !== "other")) take(pair);
  }
}

const gradeOrder = { covered: 0, likely: 1, check_label: 2, not_covered: 3 } as const;

/** Candidates in a fixed order: by grade, then score, then the notice's key. */
function compareCandidates(left: Candidate, right: Candidate): number {
  if (left.grade !== right.grade) return gradeOrder[left.grade] - gradeOrder[right.grade];
  if (left.score !== right.score) return right.score - left.score;
  return left.noticeKey < right.noticeKey ? -1 : left.noticeKey > right.noticeKey ? 1 : 0;
}

/** Compares an appliance with every notice that may concern it. The result depends on nothing but the facts and the list. */
export function crossCheck(index: RecallIndex, appliance: ApplianceFacts, options: CrossCheckOptions = {}): Candidate[] {
  const lookUp = raise(index, appliance, options);
  return lookUp === null ? [] : explainEach(index, lookUp, options);
}

function explainEach(index: RecallIndex, lookUp: LookUp, options: CrossCheckOptions): Candidate[] {
  const candidates: Candidate[] = [];
  eachPair(index, lookUp, options, (pair) => candidates.push(explain(pair)));
  return candidates.length > 1 ? candidates.sort(compareCandidates) : candidates;
}

/** The grades alone, without reasons and questions: what a run over a whole registry needs to tell which pairs it must explain. */
export function gradeAppliance(
  index: RecallIndex,
  appliance: ApplianceFacts,
  options: CrossCheckOptions,
  take: (noticeKey: string, grade: Grade) => void,
): void {
  const lookUp = raise(index, appliance, options);
  if (lookUp !== null) gradeEach(index, lookUp, options, take);
}

/** Apart from raising, which then needs no closure: nearly every appliance raises nothing. */
function gradeEach(index: RecallIndex, lookUp: LookUp, options: CrossCheckOptions, take: (noticeKey: string, grade: Grade) => void): void {
  eachPair(index, lookUp, options, ({ graded, verdict }) => take(graded.notice.key, verdict.grade));
}
