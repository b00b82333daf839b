import type { Actor } from "@/lib/access/actor";
import { findingKey } from "@/lib/casework/cause";
import { drawingOutOfUse } from "@/lib/casework/drawing-out-of-use";
import { readEvidence } from "@/lib/casework/finding-evidence";
import { openOrRefreshFinding } from "@/lib/casework/findings.run";
import type { Db } from "@/lib/store/client";
import { findFindingByKey } from "@/lib/store/finding-queries";
import { inParts } from "@/lib/store/id-parts";
import type { DrawMinute } from "@/lib/store/reading-queries";

const sentence = "It draws although it was taken out of use.";

/** Opens a danger for each appliance that draws although it was taken out of use. Inside the transaction that stores the minutes. */
export async function raiseDrawingOutOfUse(tx: Db, actor: Actor, minutes: readonly DrawMinute[], now: Date): Promise<void> {
  const { organisationId } = actor;
  const ids = [...new Set(minutes.flatMap(({ applianceId }) => applianceId ?? []))];
  for (const part of inParts(ids)) {
    const out = await tx.appliance.findMany({
      where: { id: { in: [...part] }, organisationId, state: "out_of_use", outOfUseAt: { not: null } },
      select: { id: true, siteId: true, outletId: true, outOfUseAt: true },
      orderBy: { id: "asc" },
    });
    for (const { id, siteId, outletId, outOfUseAt } of out) {
      const key = findingKey("drawing_out_of_use", "appliance", id);
      const before = await findFindingByKey(tx, organisationId, key);
      const known = before && before.state !== "closed" ? readEvidence(before.evidence) : null;
      const evidence = drawingOutOfUse(
        outOfUseAt ?? now,
        minutes.filter(({ applianceId }) => applianceId === id),
        known,
      );
      if (!evidence) continue;
      const thing = { organisationId, key, siteId, outletId, applianceId: id, cause: "drawing_out_of_use" as const };
      await openOrRefreshFinding(tx, { ...thing, signalWord: "DANGER", sentence, evidence, now, actor });
    }
  }
}
