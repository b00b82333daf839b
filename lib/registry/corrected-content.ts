import type { Db } from "@/lib/store/client";
import { findStandingCorrections } from "@/lib/store/coverage-correction-queries";
import type { NoticeContent } from "@/lib/store/notice-queries";
import { noticeContent } from "./notice-row";

/**
 * Freshly read notices with the corrections that people made of them applied again, so that a correction survives an amendment and
 * a better reading. Call it in the transaction that stores them.
 */
export async function withCorrections<Row extends { readonly id: string; readonly content: NoticeContent }>(
  tx: Db,
  organisationId: string,
  rows: readonly Row[],
): Promise<Row[]> {
  if (rows.length === 0) return [];
  const corrections = await findStandingCorrections(
    tx,
    organisationId,
    rows.map(({ id }) => id),
  );
  return rows.map((row) => {
    const own = corrections.get(row.id);
    return own ? { ...row, content: noticeContent(row.content.body, row.content.reading ?? row.content.coverage, own) } : row;
  });
}
