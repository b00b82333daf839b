"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { mayDo } from "@/lib/access/permissions";
import { addCompetence, competenceForm, withdrawCompetence } from "@/lib/registry/inspection-competence";
import { inspectionPolicyForm, saveInspectionPolicy } from "@/lib/registry/inspection-policy";
import { findByTag } from "@/lib/registry/inspection-sheet";
import { addCalibration, addInstrument, calibrationForm, instrumentForm, putInstrumentAway } from "@/lib/registry/instrument";

const meansPath = "/inspect/means";

/** Opens the inspection of a tag; whoever may not inspect sees the appliance. */
export const openTag = action(
  z.object({ tag: z.string().trim().min(1, "Type the tag.").max(300) }),
  "see inspections",
  async (work, { tag }) => {
    const appliance = await findByTag(work.db, work.actor, tag);
    const may = mayDo(work.actor, "record inspections", appliance.siteId);
    redirect(may ? `/inspect/${appliance.id}` : `/appliances/${appliance.id}`);
  },
);

export const enterInstrument = action(instrumentForm, "keep inspection means", async ({ db, actor, now }, given) => {
  await addInstrument(db, actor, { ...given, now });
  revalidatePath(meansPath);
});

export const enterCalibration = action(calibrationForm, "keep inspection means", async ({ db, actor, now }, given) => {
  await addCalibration(db, actor, { ...given, now });
  revalidatePath(meansPath);
});

export const putAway = action(z.object({ id: z.uuid() }), "keep inspection means", async ({ db, actor, now }, { id }) => {
  await putInstrumentAway(db, actor, { id, now });
  revalidatePath(meansPath);
});

export const enterCompetence = action(competenceForm, "keep inspection means", async ({ db, actor, now }, given) => {
  await addCompetence(db, actor, { ...given, now });
  revalidatePath(meansPath);
});

export const endCompetence = action(
  z.object({ id: z.uuid(), why: z.string().max(500) }),
  "keep inspection means",
  async ({ db, actor, now }, given) => {
    await withdrawCompetence(db, actor, { ...given, now });
    revalidatePath(meansPath);
  },
);

export const savePolicy = action(inspectionPolicyForm, "keep inspection means", async ({ db, actor, now }, given) => {
  await saveInspectionPolicy(db, actor, { ...given, now });
  revalidatePath(meansPath);
});
