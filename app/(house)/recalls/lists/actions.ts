"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { leaveHeldList, takeHeldList } from "@/lib/jobs/held-list";
import { checkSourceNow } from "@/lib/jobs/list-schedule";
import { processWorker } from "@/lib/jobs/process-worker";
import { addSource, changeSource, removeSource, switchSource } from "@/lib/registry/notice-source";
import { sourceForm } from "@/lib/registry/notice-source-form";

const id = z.uuid({ error: "This list is not known: reload the page." });
const held = z.object({ id, checkId: z.uuid({ error: "This list no longer waits: reload the page." }) });
const here = "/recalls/lists";

export const add = action(sourceForm, "load notices", async ({ db, actor, now }, form) => {
  const source = await addSource(db, actor, { ...form, now });
  void processWorker(db).wake();
  redirect(`${here}/${source.id}`);
});

export const change = action(
  sourceForm.extend({ id, seen: z.string().max(64).optional() }),
  "load notices",
  async ({ db, actor, now }, form) => {
    await changeSource(db, actor, { ...form, now });
    void processWorker(db).wake();
    revalidatePath(here, "layout");
  },
);

export const pause = action(z.object({ id }), "load notices", async ({ db, actor, now }, { id }) => {
  await switchSource(db, actor, { id, isOn: false, now });
  revalidatePath(here, "layout");
});

export const resume = action(z.object({ id }), "load notices", async ({ db, actor, now }, { id }) => {
  await switchSource(db, actor, { id, isOn: true, now });
  void processWorker(db).wake();
  revalidatePath(here, "layout");
});

export const checkNow = action(z.object({ id }), "load notices", async ({ db, actor, now }, { id }) => {
  await checkSourceNow(db, actor, { id, now });
  void processWorker(db).wake();
  revalidatePath(here, "layout");
});

export const remove = action(z.object({ id }), "load notices", async ({ db, actor, now }, { id }) => {
  await removeSource(db, actor, { id, now });
  redirect(here);
});

export const takeHeld = action(held, "load notices", async ({ db, actor, now }, given) => {
  await takeHeldList(db, actor, { ...given, now });
  void processWorker(db).wake();
  revalidatePath(here, "layout");
});

export const leaveHeld = action(held, "load notices", async ({ db, actor, now }, given) => {
  await leaveHeldList(db, actor, { ...given, now });
  revalidatePath(here, "layout");
});
