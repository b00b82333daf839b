"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { mailedAddress } from "@/app/_server/mailed-address";
import { tellOccupant } from "@/lib/documents/occupant-telling";

const input = z.object({
  findingId: z.uuid(),
  version: z.coerce.number().int(),
  tenancyId: z.uuid({ error: "Choose the occupant." }),
  by: z.enum(["mail", "print"]),
});

/** Tells an occupant. The path of the link is answered for a printed notice only: by mail, the occupant alone has it. */
export const tell = action(input, "tell occupants", async ({ db, actor, now }, given) => {
  const address = given.by === "mail" ? (token: string) => mailedAddress(`/o/${token}`) : (token: string) => `/o/${token}`;
  const { token } = await tellOccupant(db, actor, { ...given, address, now });
  revalidatePath(`/findings/${given.findingId}`);
  return { path: given.by === "print" ? `/o/${token}` : null };
});
