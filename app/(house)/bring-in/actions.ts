"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { chooseColumns, chooseKind, startImport, stopImport } from "@/lib/jobs/bring-in";
import { processWorker } from "@/lib/jobs/process-worker";

const runId = z.uuid("This is no run's address.");

/** Says what kind of file it is. */
export const changeKind = action(
  z.object({ runId, kind: z.enum(["labels", "places", "notices", "log"]) }),
  "bring in labels",
  async ({ db, actor, now }, input) => {
    await chooseKind(db, actor, { ...input, now });
    revalidatePath(`/bring-in/${input.runId}`);
  },
);

const columnsForm = z.looseObject({
  runId,
  columns: z.coerce.number().int().min(0).max(2000).default(0),
  unreadableCells: z.enum(["set_aside", "leave_out"]).default("set_aside"),
  act: z.enum(["look", "start"]),
});

/** A field of a form as text; an empty one, or a file, is none. */
const textOf = (field: unknown) => (typeof field === "string" && field !== "" ? field : null);

/** Takes the columns as chosen, then shows the rows again or starts the run. */
export const settleColumns = action(columnsForm, "bring in labels", async ({ db, actor, now }, input) => {
  const { columns, unreadableCells, act } = input;
  const targets = Array.from({ length: columns }, (_, at) => textOf(input[`to.${at}`]));
  if (columns > 0) await chooseColumns(db, actor, { runId: input.runId, targets, unreadableCells, now });
  if (act === "start") {
    await startImport(db, actor, { runId: input.runId, now });
    void processWorker(db).wake();
  }
  revalidatePath(`/bring-in/${input.runId}`);
});

/** Goes on with a run that was stopped or broke off. */
export const goOn = action(z.object({ runId }), "bring in labels", async ({ db, actor, now }, input) => {
  await startImport(db, actor, { ...input, now });
  void processWorker(db).wake();
  revalidatePath(`/bring-in/${input.runId}`);
});

/** Stops a run between two chunks of rows. */
export const stop = action(z.object({ runId }), "bring in labels", async ({ db, actor, now }, input) => {
  await stopImport(db, actor, { ...input, now });
  revalidatePath(`/bring-in/${input.runId}`);
});
