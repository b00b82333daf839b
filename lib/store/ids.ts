import { randomUUID } from "node:crypto";

/** A new row id: random, without order or meaning, so that it can stand in a printed link. */
export function newId(): string {
  return randomUUID();
}
