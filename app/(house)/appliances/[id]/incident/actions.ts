"use server";

import { redirect } from "next/navigation";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { type IncidentKind, incidentKinds, reportIncident } from "@/lib/registry/incident";

const kinds = Object.keys(incidentKinds) as [IncidentKind, ...IncidentKind[]];
const form = z.object({
  applianceId: z.uuid(),
  kind: z.enum(kinds, { error: "Choose what happened." }),
  at: z.iso.datetime({ local: true, error: "Give the day and the time." }),
  offsetMinutes: z.coerce.number().int().min(-900).max(900).default(0),
  text: z.string().max(4000),
  injured: z.literal("on").optional(),
  reportedTo: z.string().max(500).default(""),
  formId: z.uuid().optional(),
});

/** Reports an incident and shows its finding. The time of the form is the person's own; the browser says how far it is from UTC. */
export const report = action(form, "report incidents", async ({ db, actor, now }, { at, offsetMinutes, injured, ...rest }) => {
  const instant = new Date(new Date(`${at}Z`).getTime() + offsetMinutes * 60_000);
  const { findingId } = await reportIncident(db, actor, { ...rest, at: instant, injured: injured === "on", now });
  redirect(`/findings/${findingId}`);
});
