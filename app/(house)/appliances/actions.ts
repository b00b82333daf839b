"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { addAppliance, editAppliance } from "@/lib/registry/appliance";
import { applianceEditForm, applianceNewForm } from "@/lib/registry/appliance-form";
import { applianceStates, changeState } from "@/lib/registry/appliance-state";
import { baselineForm, documentBaseline } from "@/lib/registry/documented-baseline";
import { optionalText } from "@/lib/registry/place-form";
import { readPlateFields } from "@/lib/registry/plate-fields";
import { issueTags } from "@/lib/registry/tag";

/** Adds an appliance and opens its page. */
export const addApplianceAction = action(applianceNewForm, "edit appliances", async ({ db, actor, now }, { formId, ...fields }) => {
  const { id } = await addAppliance(db, actor, { fields, formId, now });
  revalidatePath("/appliances");
  redirect(`/appliances/${id}`);
});

/** Saves an appliance and opens its page; when somebody changed it meanwhile, answers with their values instead. */
export const editApplianceAction = action(applianceEditForm, "edit appliances", async ({ db, actor, now }, input) => {
  const { id, version, ...fields } = input;
  const outcome = await editAppliance(db, actor, { id, version, fields, now });
  if (!outcome.saved) return { conflict: { version: outcome.version, theirs: outcome.theirs } };
  revalidatePath(`/appliances/${id}`);
  redirect(`/appliances/${id}`);
});

const stateForm = z.object({ id: z.string().max(64), state: z.enum(applianceStates), reason: optionalText(500) });

/** Takes out of use, puts back in use, retires. */
export const changeStateAction = action(stateForm, "edit appliances", async ({ db, actor, now }, { id, state, reason }) => {
  await changeState(db, actor, { id, state, reason, now });
  revalidatePath(`/appliances/${id}`);
});

/** Documents the days of its baseline, or goes back to its first ones. */
export const baselineAction = action(baselineForm, "edit appliances", async ({ db, actor, now }, input) => {
  await documentBaseline(db, actor, { ...input, now });
  revalidatePath(`/appliances/${input.id}`);
});

/** A fresh tag code for the form; it is used once, here or on a label. */
export const issueTagAction = action(z.object({}), "issue tags", async ({ db, actor, now }) => {
  const [tag] = await issueTags(db, actor, { count: 1, now });
  return { tag: tag ?? "" };
});

const plateText = z.object({ text: z.string().max(4000, "Keep it to 4000 characters.") });

/** Reads a plate's text into the form's fields; what the text does not say stays out. */
export const readPlateAction = action(plateText, "edit appliances", async (_work, { text }) => ({ read: readPlateFields(text) }));
