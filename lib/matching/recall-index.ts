import type { MakerAliases } from "@/lib/identity/maker";
import { type CoveredNotice, coveredNotice, type NoticeToIndex } from "./covered-notice";
import { buildMakerIndex, type MakerIndex } from "./maker-index";
import { type MakerRows, makerRows } from "./maker-rows";
import { buildModelIndex, type ModelIndex } from "./model-index";
import type { ModelPattern } from "./model-pattern";
import type { ProductName } from "./product-kind";
import { type MatchingSettings, matchingSettings } from "./settings";

/** A recall list prepared for comparing appliances with it. Built once for a list's version. */
export interface RecallIndex {
  readonly settings: MatchingSettings;
  readonly notices: readonly CoveredNotice[];
  readonly makers: MakerIndex;
  /** The models that notices list, and those that they exclude. */
  readonly listed: StatedModels;
  readonly excluded: StatedModels;
  /** For each notice 1 when it gives models to compare with. */
  readonly isListing: Uint8Array;
  /** For each notice the last question that raised it, so that it is raised once. */
  readonly asked: Int32Array;
  readonly makerRows: MakerRows;
  /** For each product name met, how it agrees with each notice's products; see `productBeside`. */
  readonly productAgreements: Map<ProductName, Uint8Array>;
  readonly byMaker: NoticesByMaker;
  /** The same without the notices that have no identifier at all. */
  readonly identifiedByMaker: NoticesByMaker;
  readonly byGtin: ReadonlyMap<string, readonly number[]>;
}

/** Model patterns, each known by its place, with the notice that it stands in. */
export interface StatedModels {
  readonly index: ModelIndex;
  readonly patterns: readonly ModelPattern[];
  readonly noticeOf: Int32Array;
}

/** Notices by maker id: those without a list of models, and all, for an appliance without a model. */
export interface NoticesByMaker {
  readonly unlisted: ReadonlyMap<number, readonly number[]>;
  readonly all: ReadonlyMap<number, readonly number[]>;
}

export interface IndexOptions {
  readonly settings?: MatchingSettings;
  readonly aliases?: MakerAliases;
}

function groupBy<K>(notices: readonly CoveredNotice[], keysOf: (notice: CoveredNotice) => Iterable<K>): Map<K, number[]> {
  const groups = new Map<K, number[]>();
  notices.forEach((notice, id) => {
    for (const key of keysOf(notice)) {
      const group = groups.get(key);
      if (group) group.push(id);
      else groups.set(key, [id]);
    }
  });
  return groups;
}

/** Whether the notice states anything that could tell one appliance of the maker's product from another. */
function hasIdentifiers(notice: CoveredNotice): boolean {
  const { models, serials, dateCodes, upcs } = notice.coverage;
  return notice.isListing || models.stated === "all" || serials.length > 0 || dateCodes.length > 0 || upcs.length > 0;
}

function groupByMaker(notices: readonly CoveredNotice[], isWanted: (notice: CoveredNotice) => boolean): NoticesByMaker {
  return {
    unlisted: groupBy(notices, (notice) => (isWanted(notice) && !notice.isListing ? notice.makerIds : [])),
    all: groupBy(notices, (notice) => (isWanted(notice) ? notice.makerIds : [])),
  };
}

function statedModels(notices: readonly CoveredNotice[], statedBy: (notice: CoveredNotice) => readonly ModelPattern[]): StatedModels {
  const patterns: ModelPattern[] = [];
  const noticeOf: number[] = [];
  notices.forEach((notice, id) => {
    for (const pattern of statedBy(notice)) {
      patterns.push(pattern);
      noticeOf.push(id);
    }
  });
  return { index: buildModelIndex(patterns), patterns, noticeOf: Int32Array.from(noticeOf) };
}

/** Builds the index over a list's coverages. The order in which they are given says nothing. */
export function buildRecallIndex(given: readonly NoticeToIndex[], options: IndexOptions = {}): RecallIndex {
  const ordered = [...given].sort((left, right) => (left.key < right.key ? -1 : left.key > right.key ? 1 : 0));
  const makers = buildMakerIndex(
    ordered.flatMap(({ coverage }) => coverage.brands),
    options.aliases ?? [],
  );
  const notices = ordered.map((notice) => coveredNotice(notice, (name) => makers.idOf(name)));
  return {
    settings: options.settings ?? matchingSettings,
    notices,
    makers,
    listed: statedModels(notices, (notice) => notice.include),
    excluded: statedModels(notices, (notice) => notice.exclude),
    isListing: Uint8Array.from(notices, (notice) => (notice.isListing ? 1 : 0)),
    asked: new Int32Array(notices.length),
    makerRows: makerRows(notices.map(({ makerIds }) => makerIds)),
    productAgreements: new Map(),
    byMaker: groupByMaker(notices, () => true),
    identifiedByMaker: groupByMaker(notices, hasIdentifiers),
    byGtin: groupBy(notices, (notice) => notice.gtins),
  };
}
