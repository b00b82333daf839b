import type { Coverage } from "@/lib/notices/coverage";
import { understand } from "@/lib/notices/understand";
import type { Db, Store } from "@/lib/store/client";
import { findReadings, findStandingCorrections } from "@/lib/store/coverage-correction-queries";
import { eachNotice, replaceCoverages, type StoredNotice } from "@/lib/store/notice-queries";
import { contentHash, noticeContent } from "./notice-row";

interface ReadAgain extends StoredNotice {
  readonly fresh: Coverage;
}

/** Stores those whose fresh reading, with the corrections over it, is not what is stored; returns how many. */
async function storeChanged(tx: Db, organisationId: string, notices: readonly ReadAgain[]): Promise<number> {
  const ids = notices.map(({ id }) => id);
  const corrections = await findStandingCorrections(tx, organisationId, ids);
  const readings = await findReadings(tx, [...corrections.keys()]);
  const rows = notices.flatMap(({ id, body, coverageHash, fresh }) => {
    const stored = readings.get(id);
    const content = noticeContent(body, fresh, corrections.get(id));
    const isSame = content.coverageHash === coverageHash && (!stored || contentHash(stored) === contentHash(fresh));
    return isSame ? [] : [{ id, content }];
  });
  if (rows.length > 0) await replaceCoverages(tx, rows);
  return rows.length;
}

/**
 * Reads every stored notice's words again and stores the coverages that come out otherwise than before, as they do once
 * `understand` has become better; people's corrections are applied over the new readings. Their words are the same, so no decision is
 * reopened by this alone. Returns how many changed.
 */
export async function refreshCoverages(db: Store, organisationId: string): Promise<number> {
  let changed = 0;
  for await (const page of eachNotice(db, organisationId)) {
    const again = page.map((notice) => ({ ...notice, fresh: understand(notice.body) }));
    // a corrected notice's coverage is not its reading, so it is among these
    const suspects = again.filter(({ fresh, coverageHash }) => contentHash(fresh) !== coverageHash);
    if (suspects.length > 0) changed += await db.$transaction((tx) => storeChanged(tx, organisationId, suspects));
  }
  return changed;
}
