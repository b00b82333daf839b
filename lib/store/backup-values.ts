import type { BackupColumn } from "./backup-tables";
import { storedInstant } from "./bulk";

/** A cell of a backup: what JSON can hold. */
export type BackupCell = string | number | boolean | null | object;

/** The embedded database's stored value as a backup writes it. */
export function fromEmbedded(value: unknown, { kind }: BackupColumn): BackupCell {
  if (value === null || value === undefined) return null;
  if (kind === "boolean") return Number(value) !== 0;
  if (kind === "instant") return new Date(value as string | number).toISOString();
  if (kind === "bytes") return (value as Buffer).toString("base64");
  if (kind === "json") return JSON.parse(value as string) as BackupCell;
  return value;
}

/** A backup's cell as the embedded database stores it. */
export function toEmbedded(cell: BackupCell, { kind }: BackupColumn): unknown {
  if (cell === null) return null;
  if (kind === "boolean") return cell ? 1 : 0;
  if (kind === "instant") return storedInstant(new Date(cell as string));
  if (kind === "bytes") return Buffer.from(cell as string, "base64");
  if (kind === "json") return JSON.stringify(cell);
  return cell;
}

/** PostgreSQL's value, from its own JSON of the row, as a backup writes it. */
export function fromServer(value: unknown, { kind }: BackupColumn): BackupCell {
  if (value === null || value === undefined) return null;
  if (kind === "instant") return new Date(`${value as string}Z`).toISOString();
  if (kind === "bytes") return Buffer.from((value as string).slice("\\x".length), "hex").toString("base64");
  return value;
}

/** A backup's cell as PostgreSQL reads it from the JSON of a row. */
export function toServer(cell: BackupCell, { kind }: BackupColumn): BackupCell {
  if (cell === null) return null;
  if (kind === "instant") return (cell as string).replace("Z", "");
  if (kind === "bytes") return `\\x${Buffer.from(cell as string, "base64").toString("hex")}`;
  return cell;
}
