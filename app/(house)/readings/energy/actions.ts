"use server";

import { revalidatePath } from "next/cache";
import { action } from "@/app/_server/action";
import { addDemandEvent, demandForm } from "@/lib/registry/demand-response";
import { addLimit, judgeLimitNow, limitForm } from "@/lib/registry/energy-limit";
import { meterForm, setMeter } from "@/lib/registry/energy-meter";
import { addTariff, endRuleForm, takeRuleAway, tariffForm } from "@/lib/registry/tariff";

const refresh = () => revalidatePath("/readings/energy", "layout");

export const addTariffAction = action(tariffForm, "set site policy", async ({ db, actor, now }, input) => {
  await addTariff(db, actor, { ...input, now });
  refresh();
});

/** Adds a use limit, and judges by it what is booked already. */
export const addLimitAction = action(limitForm, "set site policy", async ({ db, actor, now }, input) => {
  await addLimit(db, actor, { ...input, now });
  await judgeLimitNow(db, actor, { siteId: input.siteId, now });
  refresh();
});

export const addDemandEventAction = action(demandForm, "set site policy", async ({ db, actor, now }, input) => {
  await addDemandEvent(db, actor, { ...input, now });
  refresh();
});

export const setMeterAction = action(meterForm, "set site policy", async ({ db, actor, now }, input) => {
  await setMeter(db, actor, { ...input, now });
  refresh();
});

export const takeRuleAwayAction = action(endRuleForm, "set site policy", async ({ db, actor, now }, input) => {
  await takeRuleAway(db, actor, { ...input, now });
  refresh();
});
