import { z } from "zod";
import { type Actor, recordName } from "@/lib/access/actor";
import { requireSeen, type SeenValues } from "@/lib/access/changed-meanwhile";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { plainValue } from "@/lib/casework/occupant-texts";
import type { Store } from "@/lib/store/client";
import { findContact, saveContactRow } from "@/lib/store/occupant-queries";
import { findSite } from "@/lib/store/place-queries";
import { appendRecord } from "@/lib/store/record";

export interface ContactDraft {
  readonly siteId: string;
  readonly name: string;
  readonly phone: string;
  readonly email: string;
  /** The mark of what the form was filled from. */
  readonly seen?: string | undefined;
  readonly now: Date;
}

/** What the form of a contact can change, by its fields. */
export function contactSeen(contact: { readonly name: string; readonly phone: string; readonly email: string | null } | null): SeenValues {
  return { name: contact?.name ?? null, phone: contact?.phone ?? null, email: contact?.email ?? null };
}

/** As it is dialled: digits, at least three, and what people write between them. */
const phoneShape = /^\+?[\d\s()/.-]{3,40}$/;

/** Says whom occupants and finders call about a site's appliances. Permission: `edit occupants` at the site. */
export async function saveContact(db: Store, actor: Actor, { siteId, now, ...given }: ContactDraft): Promise<void> {
  requirePermission(actor, "edit occupants", siteId);
  const { organisationId } = actor;
  if (!(await findSite(db, organisationId, siteId))) throw new Trouble("not_found", "There is no such site here.");
  const name = plainValue(given.name);
  const phone = plainValue(given.phone);
  const email = given.email.trim() || null;
  const fields: Record<string, string> = {};
  if (name === "") fields["name"] = "Write whom they ask for: a person or an office.";
  if (!phoneShape.test(phone) || phone.replace(/\D/g, "").length < 3) fields["phone"] = "Write a telephone number as it is dialled.";
  if (email !== null && !z.email().safeParse(email).success) fields["email"] = "This is no e-mail address: mend it, or leave it empty.";
  const first = Object.values(fields)[0];
  if (first !== undefined) throw new Trouble("not_valid", first, fields);
  await db.$transaction(async (tx) => {
    const before = await findContact(tx, siteId);
    requireSeen(given.seen, contactSeen(before), { what: "the contact" });
    const after = { name, phone, email };
    if (before && before.name === name && before.phone === phone && before.email === email) return;
    await saveContactRow(tx, { siteId, organisationId, ...after, changedAt: now });
    // The record holds no name: who is called is erasable, that it changed is not.
    const entry = { organisationId, at: now, actor: recordName(actor), subjectKind: "site", subjectId: siteId };
    await appendRecord(tx, [{ ...entry, what: before ? "contact for occupants changed" : "contact for occupants stated" }]);
  });
}
