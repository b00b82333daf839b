"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { action } from "@/app/_server/action";
import { saveCircuitPlace, saveOutletPlace, saveSitePlace, saveUnitPlace } from "@/lib/registry/place";
import { circuitForm, outletForm, siteForm, unitForm } from "@/lib/registry/place-form";

const refresh = (siteId: string) => revalidatePath(`/building/${siteId}`, "layout");

/** Adds or changes a site and opens it. */
export const saveSiteAction = action(siteForm, "edit places", async ({ db, actor, now }, input) => {
  const { id } = await saveSitePlace(db, actor, { ...input, now });
  refresh(id);
  redirect(`/building/${id}`);
});

export const saveUnitAction = action(unitForm, "edit places", async ({ db, actor, now }, input) => {
  await saveUnitPlace(db, actor, { ...input, now });
  refresh(input.siteId);
});

export const saveCircuitAction = action(circuitForm, "edit places", async ({ db, actor, now }, input) => {
  await saveCircuitPlace(db, actor, { ...input, now });
  refresh(input.siteId);
});

export const saveOutletAction = action(outletForm, "edit places", async ({ db, actor, now }, input) => {
  await saveOutletPlace(db, actor, { ...input, now });
  refresh(input.siteId);
});
