import { type Db, dialectOf } from "./client";

/**
 * The clause `"column" IN (a list of texts)` of a raw statement, the list handed over as one JSON parameter at `position` (1-based):
 * however long it is, the statement stays the same and within the database's limit of parameters.
 */
export function inTextList(db: Db, column: string, position: number): string {
  const list = dialectOf(db) === "sqlite" ? "SELECT value FROM json_each(?)" : `SELECT jsonb_array_elements_text($${position}::jsonb)`;
  return `"${column}" IN (${list})`;
}

/** The mark of a text parameter of a raw statement. */
export function textParameter(db: Db, position: number): string {
  return dialectOf(db) === "sqlite" ? "?" : `$${position}`;
}
