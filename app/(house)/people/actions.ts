"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { roles } from "@/lib/access/actor";
import { addPerson } from "@/lib/access/add-person";
import { changePerson, endMembership, resetPassword } from "@/lib/access/change-person";
import { invitePerson, withdrawInvitation } from "@/lib/access/invitation";
import { publicUrl } from "@/lib/access/public-url";
import { invitationMail } from "@/lib/documents/account-mail";
import { mailServer } from "@/lib/documents/mail-server";
import { queueMessage } from "@/lib/documents/message";

const role = z
  .enum(roles as [string, ...string[]], { error: "Choose one of the roles." })
  .transform((value) => value as (typeof roles)[number]);
const ticks = z.union([z.string(), z.array(z.string()).max(1000)]).optional();
const sites = ticks.transform((given) => {
  const list = given === undefined ? [] : [given].flat();
  return list.includes("all") ? ("all" as const) : list;
});
const membershipId = z.uuid({ error: "This person is not known: reload the page." });
const password = z.string().max(1000);
const newPerson = z.object({ name: z.string().trim().max(200), email: z.string().trim().max(320), password, role, sites });

export const add = action(newPerson, "manage people", async ({ db, actor, now }, person) => {
  await addPerson(db, actor, { ...person, now });
  redirect("/people");
});

const invitation = newPerson.omit({ password: true }).extend({ formId: z.uuid().optional() });

/**
 * Invites a person. The link is mailed where that is possible, and in any case shown once, to be handed over. The page comes anew also after a no, with a
 * fresh id for the next form.
 */
export const invite = action(invitation, "manage people", async ({ db, actor, organisation, now }, given) => {
  revalidatePath("/people", "layout");
  const { token } = await invitePerson(db, actor, { ...given, now });
  const path = `/join/${token}`;
  const home = publicUrl();
  const isMailed = home !== null && mailServer() !== null;
  if (isMailed) {
    const mail = invitationMail({ organisation: organisation.name, by: actor.name, role: given.role, address: `${home}${path}` });
    const about = { kind: "invitation", id: given.email.toLowerCase() };
    const message = {
      organisationId: actor.organisationId,
      kind: "invitation",
      to: given.email,
      ...mail,
      about,
      byUserId: actor.userId,
      now,
    };
    await db.$transaction((tx) => queueMessage(tx, message));
  }
  return { path, isMailed };
});

export const takeBackInvitation = action(z.object({ id: z.uuid() }), "manage people", async ({ db, actor, now }, { id }) => {
  await withdrawInvitation(db, actor, { id, now });
  revalidatePath("/people");
});

export const change = action(
  z.object({ membershipId, role, sites, seen: z.string().max(64).optional() }),
  "manage people",
  async ({ db, actor, now }, given) => {
    await changePerson(db, actor, { ...given, now });
    revalidatePath("/people", "layout");
  },
);

export const setPassword = action(z.object({ membershipId, password }), "manage people", async ({ db, actor, now }, given) => {
  await resetPassword(db, actor, { ...given, now });
});

export const end = action(z.object({ membershipId }), "manage people", async ({ db, actor, now }, given) => {
  await endMembership(db, actor, { ...given, now });
  redirect("/people");
});
