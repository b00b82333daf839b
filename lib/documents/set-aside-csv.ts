import { csvLine } from "@/lib/registry/csv-line";
import type { SetAsideRow } from "@/lib/registry/import-list";

/**
 * Set-aside rows as CSV (RFC 4180): line and reason first, then the row's own cells under the file's own headers, so that the
 * mended file can be brought in again as it is. Without headers the row's text stands in one column, `content`.
 */
export async function* setAsideCsv(
  headers: readonly string[] | null,
  batches: AsyncIterable<readonly SetAsideRow[]>,
): AsyncGenerator<string> {
  yield `\uFEFF${csvLine(["line", "reason", ...(headers ?? ["content"])])}\r\n`;
  for await (const rows of batches) {
    yield rows.map(({ line, reason, content }) => `${csvLine([line, reason])},${headers ? content : csvLine([content])}\r\n`).join("");
  }
}
