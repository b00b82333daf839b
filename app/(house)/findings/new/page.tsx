import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { requirePage } from "@/app/_server/page";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { StopUse } from "@/app/_ui/cautions";
import { AreaField, FieldColumns, NamedOptions, SelectField, TextField } from "@/app/_ui/field";
import { PageHead } from "@/app/_ui/page-head";
import { PlainSection } from "@/app/_ui/side-section";
import { signalWordMeanings, signalWords } from "@/lib/casework/signal-word";
import { mySites } from "@/lib/registry/finding-list";
import { openByHandAction } from "../actions";

export const metadata: Metadata = { title: "Open a finding" };

export default async function NewFindingPage({ searchParams }: { searchParams: Promise<Record<string, string | string[]>> }) {
  const { db, actor } = await requirePage("work findings");
  const sites = await mySites(db, actor);
  const tag = String((await searchParams)["tag"] ?? "");
  return (
    <>
      <PageHead
        crumbs={[{ label: "Findings", href: "/findings" }, { label: "new" }]}
        title="Open a finding by hand"
        lead="For what a person saw: a scorched plug, a warm outlet, a cord under a rug."
      />
      <PlainSection head="Make it safe first">
        <StopUse />
      </PlainSection>
      <PlainSection head="What was seen, and where">
        <ActionForm action={openByHandAction}>
          <input type="hidden" name="formId" value={randomUUID()} />
          <FieldColumns>
            <TextField label="Tag of the appliance" name="tag" code defaultValue={tag} hint="Leave it empty for an outlet or a place." />
            <SelectField
              label="Site"
              name="siteId"
              hint="Only where no tag is given."
              defaultValue={sites.length === 1 ? sites[0]?.id : ""}
            >
              <option value="">choose</option>
              <NamedOptions list={sites} />
            </SelectField>
            <TextField label="Outlet" name="outlet" hint="Its name, where it is about one." />
          </FieldColumns>
          <SelectField label="Signal word" name="signalWord" defaultValue="WARNING">
            {signalWords.map((word) => (
              <option key={word} value={word}>
                {word}: {signalWordMeanings[word]}
              </option>
            ))}
          </SelectField>
          <AreaField label="What was seen" name="sentence" rows={3} required maxLength={1000} />
          <Acts>
            <Button look="main">Open the finding</Button>
            <ButtonLink href="/findings">Leave it</ButtonLink>
          </Acts>
        </ActionForm>
      </PlainSection>
    </>
  );
}
