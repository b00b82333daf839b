"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { endTenancy, eraseOccupant, startTenancy } from "@/lib/registry/tenancy";
import { saveContact } from "@/lib/registry/tenancy-contact";

const day = (sentence: string) => z.iso.date({ error: sentence }).transform((text) => new Date(`${text}T00:00:00Z`));
const line = (most: number) => z.string().max(most, { error: `Write at most ${most} characters.` });
const permission = "edit occupants" as const;

const startInput = z.object({
  id: z.uuid(),
  unitId: z.uuid({ error: "Choose the unit." }),
  name: line(200),
  email: line(254).default(""),
  language: z.enum(["en", "de"]),
  note: line(1000).default(""),
  fromAt: day("Choose the day on which it began."),
});

export const start = action(startInput, permission, async ({ db, actor, now }, given) => {
  await startTenancy(db, actor, { ...given, now });
  revalidatePath("/building", "layout");
});

/** The day's end: whoever lives there until a day still does on that day. Ended today, it ends now. */
function endOf(dayStart: Date, now: Date): Date {
  const end = new Date(dayStart.getTime() + 86_400_000);
  return dayStart <= now && end > now ? now : end;
}

const endInput = z.object({ id: z.uuid(), toAt: day("Choose the last day.") });

export const end = action(endInput, permission, async ({ db, actor, now }, { id, toAt }) => {
  await endTenancy(db, actor, { id, toAt: endOf(toAt, now), now });
  revalidatePath("/building", "layout");
});

export const erase = action(z.object({ id: z.uuid() }), permission, async ({ db, actor, now }, { id }) => {
  await eraseOccupant(db, actor, { id, now });
  revalidatePath("/building", "layout");
});

const contactInput = z.object({
  siteId: z.uuid(),
  name: line(200),
  phone: line(60),
  email: line(254).default(""),
  seen: z.string().max(64).optional(),
});

export const contact = action(contactInput, permission, async ({ db, actor, now }, given) => {
  await saveContact(db, actor, { ...given, now });
  revalidatePath("/building", "layout");
});
