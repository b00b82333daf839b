import { Acts, ButtonLink } from "@/app/_ui/button";
import { FieldStack } from "@/app/_ui/field";
import { SideSection } from "@/app/_ui/side-section";
import type { Actor } from "@/lib/access/actor";
import { mayDo } from "@/lib/access/permissions";
import type { FindingDetail } from "@/lib/registry/finding-detail";
import { sentNotices } from "@/lib/registry/occupant-notice";
import type { Db } from "@/lib/store/client";
import { SentList } from "./sent-list";

/** What the occupant of the appliance was told, on the finding's page. */
export async function OccupantSection({ db, actor, detail }: { db: Db; actor: Actor; detail: FindingDetail }) {
  const { finding, facts } = detail;
  if (!facts.hasAppliance || !mayDo(actor, "tell occupants", finding.siteId)) return null;
  const sent = await sentNotices(db, finding.organisationId, finding.id);
  return (
    <SideSection head="The occupant" id="occupant" note="A notice in plain words, with a link to their own appliance alone.">
      <FieldStack>
        <SentList sent={sent} />
        <Acts>
          {facts.state !== "closed" && (
            <ButtonLink href={`/findings/${finding.id}/occupant`} look="plain">
              Tell the occupant
            </ButtonLink>
          )}
          {facts.state === "out_of_use" && finding.applianceId !== null && (
            <ButtonLink href={`/appliances/${finding.applianceId}/sheet`} look="plain">
              Print the DO NOT USE sheet
            </ButtonLink>
          )}
        </Acts>
      </FieldStack>
    </SideSection>
  );
}
