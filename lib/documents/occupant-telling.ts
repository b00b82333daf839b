import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { issueLink, tokenHash } from "@/lib/access/secret-link";
import { Trouble } from "@/lib/access/trouble";
import { asLanguage } from "@/lib/casework/occupant-texts";
import { findingChanged } from "@/lib/registry/finding-changed";
import { writeOccupantLine } from "@/lib/registry/occupant-line";
import { occupantLinkDays } from "@/lib/registry/occupant-link";
import { noticeGround } from "@/lib/registry/occupant-notice";
import type { Db, Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { insertNotice, ownTexts, type Tenancy } from "@/lib/store/occupant-queries";
import { findSecretLink } from "@/lib/store/secret-link-queries";
import { queueMessage } from "./message";
import { composeLetter, letterMail } from "./occupant-letter";

export interface TellingWish {
  readonly findingId: string;
  /** The version the person was looking at: the same form sent twice tells once. */
  readonly version: number;
  readonly tenancyId: string;
  readonly by: "mail" | "print";
  /** The address of the page behind a link, from its secret part. */
  readonly address: (token: string) => string;
  readonly now: Date;
}

const wayWords = { mail: "A notice to the occupant was queued as e-mail", print: "A notice to the occupant was made to be printed" };

function checkedAddress({ email }: Tenancy): string {
  if (email) return email;
  throw new Trouble("not_valid", "This occupant has no e-mail address: print the notice.", { by: "This occupant has no e-mail address." });
}

/** A link of the days that an occupant's has, but none longer than the tenancy. */
async function makeLink(tx: Db, actor: Actor, { findingId, now }: TellingWish, tenancy: Tenancy) {
  const lasting = tenancy.toAt === null ? occupantLinkDays : (tenancy.toAt.getTime() - now.getTime()) / 86_400_000;
  const { organisationId, userId: byUserId } = actor;
  const subject = { kind: "finding", id: findingId };
  const days = Math.min(occupantLinkDays, lasting);
  const draft = { organisationId, kind: "occupant" as const, subject, payload: { tenancyId: tenancy.id }, days, byUserId, now };
  const token = await issueLink(tx, draft);
  const link = await findSecretLink(tx, tokenHash(token));
  if (!link) throw new Error("The link that was just made is not there.");
  return { token, linkId: link.id };
}

/**
 * Tells an occupant of a finding: makes their link and the notice, queues the mail where it is to go by mail, and writes history and
 * record, all together. Returns the link's secret part, for a printed notice. Permission: `tell occupants` at the finding's site.
 */
export async function tellOccupant(db: Store, actor: Actor, wish: TellingWish): Promise<{ id: string; token: string }> {
  requirePermission(actor, "tell occupants");
  const { findingId, by, now } = wish;
  return db.$transaction(async (tx) => {
    const ground = await noticeGround(tx, actor, { findingId, now });
    const { finding } = ground.shown;
    if (finding.version !== wish.version) throw await findingChanged(tx, finding, wish.version);
    if (!ground.mayTell) throw new Trouble("not_allowed_now", "This finding is closed: there is nothing to tell any more.");
    const tenancy = ground.tenancies.find(({ id }) => id === wish.tenancyId);
    if (!tenancy) throw new Trouble("not_valid", "Choose an occupant of this unit.", { tenancyId: "Choose an occupant of this unit." });
    const to = by === "mail" ? checkedAddress(tenancy) : null;
    const { token, linkId } = await makeLink(tx, actor, wish, tenancy);
    const language = asLanguage(tenancy.language);
    const { organisationId, userId: byUserId } = actor;
    const own = await ownTexts(tx, organisationId, language);
    const letter = composeLetter({ facts: ground, language, name: tenancy.name ?? "", own });
    const about = { kind: "finding", id: findingId };
    const mail = { organisationId, kind: "occupant_notice", about, byUserId, now };
    const messageId = to === null ? null : await queueMessage(tx, { ...mail, to, ...letterMail(letter, wish.address(token)) });
    const id = newId();
    await insertNotice(tx, { id, organisationId, findingId, tenancyId: tenancy.id, linkId, messageId, language, at: now, byUserId });
    const text = `${wayWords[by]}; its link is open for ${occupantLinkDays} days at most and ends with the tenancy.`;
    const after = { noticeId: id, tenancyId: tenancy.id, linkId, messageId, language };
    await writeOccupantLine(tx, finding, { step: "tell_occupant", text, byUserId, actor: recordName(actor), after, now });
    return { id, token };
  });
}
