import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { FieldColumns, TextField } from "@/app/_ui/field";
import { PageHead } from "@/app/_ui/page-head";
import { Seen } from "@/app/_ui/seen";
import { SideSection } from "@/app/_ui/side-section";
import { mayDo } from "@/lib/access/permissions";
import { dueDays, mostDueDays } from "@/lib/casework/due-date";
import { signalWordMeanings, signalWords } from "@/lib/casework/signal-word";
import { viewDueDays } from "@/lib/registry/due-days";
import { saveDueDays } from "./actions";

export const metadata: Metadata = { title: "Due dates" };

export default async function DueDaysPage({ params }: { params: Promise<{ siteId: string }> }) {
  const { db, actor } = await requirePage("see findings");
  const { site, days, isOwn } = await forPage(viewDueDays(db, actor, (await params).siteId));
  const maySet = mayDo(actor, "set site policy", site.id);
  return (
    <>
      <PageHead
        title="Due dates of findings"
        crumbs={[{ label: "Building", href: "/building" }, { label: site.name, href: `/building/${site.id}` }, { label: "due dates" }]}
        lead="Days from the opening of a finding to its due date. Own policy: no standard sets them; what a law, an insurer or an authority asks for comes first."
        cells={[{ label: "Stated by", value: isOwn ? "this site" : "the program" }]}
      />
      <SideSection
        head="Days"
        note="Findings that are open already keep their dates. An overdue one is told to its owner, its watchers and whoever runs the site."
      >
        <ActionForm action={saveDueDays} done="Stated. It holds for findings opened from now on.">
          <input type="hidden" name="siteId" value={site.id} />
          <Seen values={{ ...days }} />
          <FieldColumns>
            {signalWords.map((word) => (
              <TextField
                key={word}
                label={word}
                name={word}
                type="number"
                min={1}
                max={mostDueDays[word]}
                required
                disabled={!maySet}
                defaultValue={days[word]}
                hint={`${signalWordMeanings[word]} Otherwise ${dueDays[word]}; at most ${mostDueDays[word]}.`}
              />
            ))}
          </FieldColumns>
          {maySet && (
            <Acts>
              <Button look="main">State them</Button>
            </Acts>
          )}
        </ActionForm>
      </SideSection>
    </>
  );
}
