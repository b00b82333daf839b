import { route } from "@/app/_server/route";
import { recordInspection } from "@/lib/registry/inspection";
import { inspectionForm } from "@/lib/registry/inspection-form";

export const dynamic = "force-dynamic";

/** Records an inspection sent by a phone. The same form again answers with what was recorded the first time. */
export const POST = route({ permission: "record inspections", body: inspectionForm }, ({ db, actor, now, body }) =>
  recordInspection(db, actor, { form: body, now }),
);
