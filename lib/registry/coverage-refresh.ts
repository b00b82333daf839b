import { understand } from "@/lib/notices/understand";
import type { Store } from "@/lib/store/client";
import { eachNotice, replaceCoverages } from "@/lib/store/notice-queries";
import { contentHash, noticeContent } from "./notice-row";

/**
 * Reads every stored notice's words again and stores the coverages that come out otherwise than before, as they do once
 * `understand` has become better. Their words are the same, so no decision is reopened by this alone. Returns how many changed.
 */
export async function refreshCoverages(db: Store, organisationId: string): Promise<number> {
  let changed = 0;
  for await (const page of eachNotice(db, organisationId)) {
    const rows = page.flatMap(({ id, body, coverageHash }) => {
      const coverage = understand(body);
      return contentHash(coverage) === coverageHash ? [] : [{ id, content: noticeContent(body, coverage) }];
    });
    if (rows.length > 0) await db.$transaction((tx) => replaceCoverages(tx, rows));
    changed += rows.length;
  }
  return changed;
}
