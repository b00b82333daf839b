import { createHash } from "node:crypto";
import { makerKey } from "@/lib/identity/maker";
import { applyCorrections, type Correction } from "@/lib/notices/correction";
import type { Coverage } from "@/lib/notices/coverage";
import type { Notice } from "@/lib/notices/notice";
import type { NoticeContent } from "@/lib/store/notice-queries";
import { canonicalJson } from "@/lib/store/record";

const longestSearchText = 4_000;

/** SHA-256 of a value's canonical JSON: equal content, equal hash, in either database. */
export function contentHash(value: Notice | Coverage): string {
  return createHash("sha256").update(canonicalJson(value)).digest("hex");
}

/** Whether a notice gives anything to compare an appliance with beyond its maker and kind. */
export function hasIdentifiers({ models, serials, dateCodes, upcs }: Coverage): boolean {
  return models.stated === "all" || models.include.length > 0 || serials.length > 0 || dateCodes.length > 0 || upcs.length > 0;
}

/**
 * What is stored of a notice beside its place in a list: its words, our reading of them with a person's corrections over it, and what
 * it is found by.
 */
export function noticeContent(notice: Notice, reading: Coverage, corrections: readonly Correction[] = []): NoticeContent {
  const coverage = applyCorrections(notice, reading, corrections);
  const found = [notice.number, notice.title, ...coverage.brands, ...coverage.models.include, ...coverage.products, ...notice.makers];
  return {
    number: notice.number,
    // A list that gives only the day of the last change is still sorted by a day.
    date: notice.date ?? notice.lastPublished,
    title: notice.title,
    body: notice,
    coverage,
    reading: corrections.length > 0 ? reading : null,
    contentHash: contentHash(notice),
    coverageHash: contentHash(coverage),
    searchText: found.join(" ").toLowerCase().slice(0, longestSearchText),
    hasIdentifiers: hasIdentifiers(coverage),
    brandKeys: [...new Set(coverage.brands.map(makerKey))].join(" "),
  };
}
