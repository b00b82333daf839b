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
  if (kind === "json") return JSON.parse(String(value)) as BackupCell;
  return value as BackupCell;
}

/** A backup's cell as the embedded database stores it. */
export function toEmbedded(cell: BackupCell, { kind }: BackupColumn): unknown {
  if (cell === null) return null;
  if (kind === "boolean") return cell ? 1 : 0;
  if (kind === "instant") return storedInstant(new Date(String(cell)));
  if (kind === "bytes") return Buffer.from(String(cell), "base64");
  if (kind === "json") return JSON.stringify(cell);
  return cell;
}

/** PostgreSQL's value, from its own JSON of the row, as a backup writes it. */
export function fromServer(value: unknown, { kind }: BackupColumn): BackupCell {
  if (value === null || value === undefined) return null;
  if (kind === "instant") return new Date(`${String(value)}Z`).toISOString();
  if (kind === "bytes") return Buffer.from(String(value).slice("\\x".length), "hex").toString("base64");
  return value as BackupCell;
}

/** A backup's cell as PostgreSQL reads it from the JSON of a row. */
export function toServer(cell: BackupCell, { kind }: BackupColumn): BackupCell {
  if (cell === null) return null;
  if (kind === "instant") return String(cell).replace("Z", "");
  if (kind === "bytes") return `\\x${Buffer.from(String(cell), "base64").toString("hex")}`;
  return cell;
}
