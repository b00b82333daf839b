"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { processWorker } from "@/lib/jobs/process-worker";
import { askSitePack, stopSitePack } from "@/lib/jobs/site-packs";

const packOf = z.object({ siteId: z.uuid("This is no site's address."), day: z.string().max(20, "Write the day as 2026-03-31.") });

/** Asks for the pack of a day. */
export const makePack = action(packOf, "make site packs", async ({ db, actor, now }, input) => {
  await askSitePack(db, actor, { ...input, now });
  void processWorker(db).wake();
  revalidatePath(`/building/${input.siteId}/pack`);
});

/** Stops the making of a day's pack. */
export const stopPack = action(packOf, "make site packs", async ({ db, actor, now }, input) => {
  await stopSitePack(db, actor, { ...input, now });
  revalidatePath(`/building/${input.siteId}/pack`);
});
