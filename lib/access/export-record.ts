import type { Db } from "@/lib/store/client";
import { recordLines } from "@/lib/store/verify-record";
import type { Actor } from "./actor";
import { requireRecord } from "./read-record";

/** The record of the actor's organisation as JSON Lines (see `recordLines`). Throws `Refused` before the first line. */
export function exportRecord(db: Db, actor: Actor): AsyncGenerator<string> {
  requireRecord(actor);
  return recordLines(db, actor.organisationId);
}
