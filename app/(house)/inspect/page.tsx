import type { Metadata } from "next";
import { requirePage } from "@/app/_server/page";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { TextField } from "@/app/_ui/field";
import { PageHead } from "@/app/_ui/page-head";
import { SideSection } from "@/app/_ui/side-section";
import { planRound, roundQuery } from "@/lib/registry/round";
import { TagScanner } from "./_parts/tag-finder";
import { openTag } from "./actions";

export const metadata: Metadata = { title: "Inspect" };

export default async function InspectPage() {
  const { db, actor, now } = await requirePage("see inspections");
  const { sites } = await planRound(db, actor, { query: roundQuery.parse({}), now });
  return (
    <>
      <PageHead
        title="Inspect"
        lead="Take a tag in hand, or walk a round of what is due. What you type is kept on the phone until it is sent."
      />
      <SideSection head="By tag" note="The code on the plug, or the address in its square code.">
        <ActionForm action={openTag}>
          <TextField id="tag" label="Tag" name="tag" code required maxLength={300} autoComplete="off" autoCapitalize="characters" />
          <Acts>
            <Button look="main" big>
              Open
            </Button>
            <TagScanner fieldId="tag" />
          </Acts>
        </ActionForm>
      </SideSection>
      <SideSection head="Rounds" note="What is due or overdue, in walking order.">
        <ul>
          {sites.map(({ id, name }) => (
            <li key={id}>
              <ButtonLink href={`/inspect/round?site=${id}`} look="quiet">
                {name}
              </ButtonLink>
            </li>
          ))}
        </ul>
        {sites.length === 0 && <p className="soft">There is no site yet.</p>}
      </SideSection>
      <SideSection head="Means" note="By what a site inspects, who may, and with what.">
        <Acts>
          <ButtonLink href="/inspect/means">Standards, competences, instruments</ButtonLink>
          <a href="/inspect/export" download>
            All inspections as CSV
          </a>
        </Acts>
      </SideSection>
    </>
  );
}
