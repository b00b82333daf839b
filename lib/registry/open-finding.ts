import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { type FindingThing, findingKey } from "@/lib/casework/cause";
import { openOrRefreshFinding } from "@/lib/casework/findings.run";
import { tagKey } from "@/lib/identity/tag-code";
import type { Db, Store } from "@/lib/store/client";
import { findSite } from "@/lib/store/place-queries";
import { appliancesByTag, outletsByName } from "@/lib/store/placement-queries";
import type { SignalWord } from "@/lib/watch/screening-result";
import { nameKey } from "./place-name";

export interface HandFinding {
  /** The tag of the appliance it is about; else the site, and the outlet where one is meant. */
  readonly tag: string;
  readonly siteId: string;
  readonly outlet: string;
  readonly signalWord: SignalWord;
  /** What was seen, in the person's words. */
  readonly sentence: string;
  /** Made once for each form that is shown, so that sending it twice opens one finding. */
  readonly formId: string;
  readonly now: Date;
}

interface Thing {
  readonly kind: FindingThing;
  readonly id: string;
  readonly siteId: string;
  readonly applianceId: string | null;
  readonly outletId: string | null;
}

function missing(field: string, sentence: string): Trouble {
  return new Trouble("not_valid", sentence, { [field]: sentence });
}

async function thingOf(db: Db, actor: Actor, input: HandFinding): Promise<Thing> {
  const { organisationId } = actor;
  if (input.tag.trim() !== "") {
    const [appliance] = await appliancesByTag(db, organisationId, [tagKey(input.tag)]);
    if (!appliance)
      throw missing("tag", `No appliance has the tag "${input.tag.trim()}": look at the tag again, or add the appliance first.`);
    return { kind: "appliance", id: appliance.id, siteId: appliance.siteId, applianceId: appliance.id, outletId: appliance.outletId };
  }
  const site = await findSite(db, organisationId, input.siteId);
  if (!site) throw missing("siteId", "Give the tag of the appliance, or choose the site.");
  if (input.outlet.trim() === "") return { kind: "site", id: site.id, siteId: site.id, applianceId: null, outletId: null };
  const [outlet] = await outletsByName(db, organisationId, [nameKey(input.outlet)]);
  if (outlet?.siteId !== site.id) throw missing("outlet", `There is no outlet "${input.outlet.trim()}" at ${site.name}.`);
  return { kind: "outlet", id: outlet.id, siteId: site.id, applianceId: null, outletId: outlet.id };
}

/** Opens a finding that a person saw with their own eyes. Permission: `work findings` at its site. */
export async function openFindingByHand(db: Store, actor: Actor, input: HandFinding): Promise<{ id: string }> {
  requirePermission(actor, "work findings");
  const sentence = input.sentence.trim();
  if (sentence === "") throw missing("sentence", "Write what you saw.");
  const thing = await thingOf(db, actor, input);
  requirePermission(actor, "work findings", thing.siteId);
  const { siteId, applianceId, outletId } = thing;
  return db.$transaction((tx) =>
    openOrRefreshFinding(tx, {
      organisationId: actor.organisationId,
      key: `${findingKey("by hand", thing.kind, thing.id)}:${input.formId}`,
      cause: "by hand",
      siteId,
      applianceId,
      outletId,
      signalWord: input.signalWord,
      sentence,
      evidence: { figures: [], reasons: [] },
      now: input.now,
      actor,
    }),
  );
}
