import { randomInt } from "node:crypto";
import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { checkTagCode, isOwnTag, issueTagCode, tagKey } from "@/lib/identity/tag-code";
import type { Db, Store } from "@/lib/store/client";
import { appendRecord } from "@/lib/store/record";
import { enterTagCodes, findTagCode, tieTagCode } from "@/lib/store/tag-queries";

/** A tag as an appliance carries it. */
export interface TakenTag {
  readonly tag: string;
  /** Of our own issue, so with a check character. */
  readonly issued: boolean;
}

const longestForeignTag = 64;

/** One fresh code that this organisation never had, entered at once. Inside a transaction. */
export async function issueOne(tx: Db, organisationId: string, applianceId: string | null, now: Date): Promise<string> {
  for (;;) {
    const tag = issueTagCode(randomInt);
    if ((await enterTagCodes(tx, organisationId, [{ tagKey: tagKey(tag), applianceId }], now)) === 1) return tag;
  }
}

/** Issues codes for printing; each is used once and never issued again, whether it is stuck on an appliance or not. */
export async function issueTags(db: Store, actor: Actor, work: { readonly count: number; readonly now: Date }): Promise<string[]> {
  requirePermission(actor, "issue tags");
  const { count, now } = work;
  if (!Number.isInteger(count) || count < 1 || count > 1000) throw new Trouble("not_valid", "Ask for 1 to 1000 tags at a time.");
  const { organisationId } = actor;
  return db.$transaction(async (tx) => {
    const tags: string[] = [];
    while (tags.length < count) tags.push(await issueOne(tx, organisationId, null, now));
    const entry = { organisationId, at: now, actor: recordName(actor), what: "tags issued", subjectKind: "tags" };
    await appendRecord(tx, [{ ...entry, subjectId: tags[0] ?? "", after: { tags } }]);
    return tags;
  });
}

/**
 * Reads a tag as typed. One of our own shape must have the right check character, and is refused with the likely reading; a foreign
 * code is kept as it is.
 */
export function readTag(text: string): TakenTag {
  const trimmed = text.trim();
  if (tagKey(trimmed) === "" || trimmed.length > longestForeignTag) {
    const sentence = `A tag has 1 to ${longestForeignTag} characters, among them a letter or a digit.`;
    throw new Trouble("not_valid", sentence, { tag: sentence });
  }
  if (!isOwnTag(trimmed)) return { tag: trimmed, issued: false };
  const check = checkTagCode(trimmed);
  if (check.ok) return { tag: check.tag, issued: true };
  throw new Trouble("not_valid", check.problem, { tag: check.problem });
}

function taken(tag: string): Trouble {
  const sentence = `The tag ${tag} is on another appliance or was: a tag is used once. Take a fresh one.`;
  return new Trouble("already_there", sentence, { tag: sentence });
}

/** Gives an appliance its tag inside a transaction: the one typed, or a fresh one where it is empty. */
export async function takeTag(
  tx: Db,
  work: { readonly organisationId: string; readonly text: string | null; readonly applianceId: string; readonly now: Date },
): Promise<TakenTag> {
  const { organisationId, text, applianceId, now } = work;
  if (text === null || text.trim() === "") return { tag: await issueOne(tx, organisationId, applianceId, now), issued: true };
  const read = readTag(text);
  const key = tagKey(read.tag);
  const code = await findTagCode(tx, organisationId, key);
  if (code?.voidedAt || (code?.applianceId && code.applianceId !== applianceId)) throw taken(read.tag);
  if (code) await tieTagCode(tx, organisationId, key, applianceId);
  else if ((await enterTagCodes(tx, organisationId, [{ tagKey: key, applianceId }], now)) === 0) throw taken(read.tag);
  return read;
}
