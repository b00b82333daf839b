"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { placeHold, releaseHold } from "@/lib/registry/hold";

const why = z.string().trim().max(1000);

/** Places a hold on an appliance or a site. */
export const hold = action(
  z.object({ kind: z.enum(["appliance", "site"]), id: z.uuid(), why }),
  "place holds",
  async ({ db, actor, now }, given) => {
    await placeHold(db, actor, { ...given, now });
    revalidatePath("/", "layout");
  },
);

export const release = action(z.object({ id: z.uuid(), why }), "place holds", async ({ db, actor, now }, given) => {
  await releaseHold(db, actor, { ...given, now });
  revalidatePath("/", "layout");
});
