import { randomBytes } from "node:crypto";
import type { Actor } from "@/lib/access/actor";
import { mayDo } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { checkTagCode, tagKey } from "@/lib/identity/tag-code";
import type { Db } from "@/lib/store/client";
import { otherLiveFindings } from "@/lib/store/finding-queries";
import { findContact, type SiteContact } from "@/lib/store/occupant-queries";
import { enterTagCodes } from "@/lib/store/tag-queries";

/** What the link on a tag holds: random, so that neither tags nor rows can be counted through. Made when it is first asked for. */
export async function scanIdOf(
  db: Db,
  tag: { readonly organisationId: string; readonly tagKey: string; readonly now: Date },
): Promise<string> {
  const { organisationId, tagKey: key, now } = tag;
  const where = { organisationId_tagKey: { organisationId, tagKey: key } };
  const known = await db.tagCode.findUnique({ where, select: { scanId: true } });
  if (known?.scanId) return known.scanId;
  if (!known) await enterTagCodes(db, organisationId, [{ tagKey: key, applianceId: null }], now);
  const fresh = randomBytes(12).toString("base64url");
  await db.tagCode.updateMany({ where: { organisationId, tagKey: key, scanId: null }, data: { scanId: fresh } });
  // Somebody may have been quicker: theirs stands.
  return (await db.tagCode.findUniqueOrThrow({ where, select: { scanId: true } })).scanId ?? fresh;
}

/** What a stranger is told of a tag: nothing of the appliance but whether to leave it alone, and whom to call. */
export interface ScannedTag {
  readonly tag: string;
  readonly isUnsafe: boolean;
  readonly contact: Pick<SiteContact, "name" | "phone" | "email"> | null;
}

export type Scan = { readonly kind: "stranger"; readonly shown: ScannedTag } | { readonly kind: "own"; readonly applianceId: string };

const unknownTag = () => new Trouble("not_found", "This tag is not known here: look at it again, and type all of its characters.");

/** The codes that a scanned or typed text can mean. A typed one of a foreign scheme could be guessed, so it counts for one's own people only. */
async function codesOf(db: Db, code: string, actor: Actor | null) {
  const scanned = await db.tagCode.findUnique({ where: { scanId: code } });
  if (scanned) return [scanned];
  const key = tagKey(code);
  if (key === "" || key.length > 64) return [];
  if (actor) {
    const own = await db.tagCode.findMany({ where: { organisationId: actor.organisationId, tagKey: key } });
    if (own.length > 0) return own;
  }
  return checkTagCode(code).ok ? db.tagCode.findMany({ where: { tagKey: key }, orderBy: { organisationId: "asc" } }) : [];
}

/** The appliance is out of use, or an open danger stands against it. */
async function isUnsafe(db: Db, { id, state }: { id: string; state: string }): Promise<boolean> {
  if (state === "out_of_use") return true;
  return (await otherLiveFindings(db, id, "")).some(({ signalWord, state }) => signalWord === "DANGER" || state === "out_of_use");
}

/**
 * Looks up a scanned or typed tag: who is signed in and may see the appliance is sent to it, everybody else sees whom to call and
 * whether to leave it alone. A code that several organisations use tells of no contact. Throws `Trouble` for an unknown one.
 */
export async function scanTag(db: Db, { code, actor }: { readonly code: string; readonly actor: Actor | null }): Promise<Scan> {
  const codes = (await codesOf(db, code, actor)).filter(({ voidedAt }) => voidedAt === null);
  const found = [];
  for (const { organisationId, tagKey: key } of codes) {
    const where = { organisationId_tagKey: { organisationId, tagKey: key } };
    const appliance = await db.appliance.findUnique({
      where,
      select: { id: true, tag: true, state: true, siteId: true, organisationId: true },
    });
    if (appliance) found.push(appliance);
  }
  const own = found.find(
    ({ organisationId, siteId }) => actor?.organisationId === organisationId && mayDo(actor, "see appliances", siteId),
  );
  if (own) return { kind: "own", applianceId: own.id };
  const [first, second] = found;
  if (!first) throw unknownTag();
  let unsafe = false;
  for (const appliance of found) unsafe ||= await isUnsafe(db, appliance);
  const contact = second === undefined ? await findContact(db, first.siteId) : null;
  const shown = contact && { name: contact.name, phone: contact.phone, email: contact.email };
  return { kind: "stranger", shown: { tag: first.tag, isUnsafe: unsafe, contact: shown } };
}
