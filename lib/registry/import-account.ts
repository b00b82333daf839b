/** What became of a file's rows. Once a run has ended, read = created + updated + unchanged + set aside. */
export interface ImportCounts {
  readonly rowsRead: number;
  readonly created: number;
  readonly updated: number;
  readonly unchanged: number;
  readonly setAside: number;
}

/** The account of a run that came to its end, or was stopped by a person. */
export interface ImportAccount extends ImportCounts {
  readonly id: string;
  readonly state: "done" | "stopped";
  /** Sentences for a person, such as outlets that had to be made; null when there is nothing to say. */
  readonly message: string | null;
}

export const noRows: ImportCounts = { rowsRead: 0, created: 0, updated: 0, unchanged: 0, setAside: 0 };

/** Adds the outcome of one chunk. Throws when its parts do not make up its rows: a row would be lost or counted twice. */
export function addCounts(before: ImportCounts, chunk: ImportCounts): ImportCounts {
  const { rowsRead, created, updated, unchanged, setAside } = chunk;
  if (rowsRead !== created + updated + unchanged + setAside) {
    throw new Error(
      `The account does not balance: ${rowsRead} rows read, but ${created} + ${updated} + ${unchanged} + ${setAside} accounted for.`,
    );
  }
  return {
    rowsRead: before.rowsRead + rowsRead,
    created: before.created + created,
    updated: before.updated + updated,
    unchanged: before.unchanged + unchanged,
    setAside: before.setAside + setAside,
  };
}

/** The account as one line. */
export function accountLine(kind: string, counts: ImportCounts, message: string | null): string {
  const { rowsRead, created, updated, unchanged, setAside } = counts;
  const sum = `${kind}: ${rowsRead} rows read = ${created} created + ${updated} updated + ${unchanged} unchanged + ${setAside} set aside`;
  return message === null ? sum : `${sum}. ${message.replace(/\s+/g, " ")}`;
}
