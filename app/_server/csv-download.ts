import Papa from "papaparse";

type Cell = string | number | null;

export interface CsvDownload<Row> {
  /** The file's name without the day and the ending. */
  readonly name: string;
  readonly now: Date;
  readonly columns: readonly string[];
  /** The rows, a page at a time; a page may be empty. */
  readonly pages: AsyncGenerator<readonly Row[]>;
  readonly cells: (row: Row) => readonly Cell[];
}

/**
 * A CSV file (RFC 4180) to save, streamed a page at a time, so that it may be of any length. A text that a spreadsheet would take
 * for a formula gets an apostrophe before it (OWASP, CSV Injection).
 */
export function csvDownload<Row>({ name, now, columns, pages, cells }: CsvDownload<Row>): Response {
  const encode = (rows: readonly (readonly Cell[])[]) =>
    new TextEncoder().encode(
      rows.length === 0 ? "" : `${Papa.unparse(rows as unknown[][], { escapeFormulae: true, newline: "\r\n" })}\r\n`,
    );
  const body = new ReadableStream<Uint8Array>({
    start: (stream) => stream.enqueue(encode([columns])),
    async pull(stream) {
      const page = await pages.next();
      if (page.done) return stream.close();
      stream.enqueue(encode(page.value.map(cells)));
    },
    cancel: () => void pages.return(undefined),
  });
  const headers = {
    "content-type": "text/csv; charset=utf-8",
    "content-disposition": `attachment; filename="${name}-${now.toISOString().slice(0, 10)}.csv"`,
    "cache-control": "no-store",
  };
  return new Response(body, { headers });
}
