import type { Metadata } from "next";
import { requirePage } from "@/app/_server/page";
import { ButtonLink } from "@/app/_ui/button";
import { EmptyState } from "@/app/_ui/empty-state";
import { PageHead } from "@/app/_ui/page-head";
import { mayDo } from "@/lib/access/permissions";
import { draftChoices } from "@/lib/registry/appliance-draft";
import { type ApplianceFormText, applianceFieldNames } from "@/lib/registry/appliance-form";
import { newId } from "@/lib/store/ids";
import { ApplianceForm } from "../_parts/appliance-form";

export const metadata: Metadata = { title: "Add an appliance" };

const nothing = Object.fromEntries(applianceFieldNames.map((name) => [name, ""])) as ApplianceFormText;

export default async function NewAppliancePage({ searchParams }: { searchParams: Promise<Record<string, string | string[]>> }) {
  const { db, actor } = await requirePage("edit appliances");
  const choices = await draftChoices(db, actor);
  const asked = await searchParams;
  const given = (name: string) => (typeof asked[name] === "string" ? asked[name] : "");
  const only = choices.sites.length === 1 ? (choices.sites[0]?.id ?? "") : "";
  const text = { ...nothing, tag: given("tag"), siteId: given("site") || only, unit: given("unit"), outlet: given("outlet") };
  return (
    <>
      <PageHead
        title="Add an appliance"
        lead="Read its rating plate, then say where it is."
        crumbs={[{ label: "Appliances", href: "/appliances" }, { label: "new" }]}
      />
      {choices.sites.length === 0 ? (
        <EmptyState
          head="There is no site yet"
          action={mayDo(actor, "edit places") ? <ButtonLink href="/building/new">Add a site</ButtonLink> : undefined}
        >
          An appliance belongs to a site: add the building first, or bring in a places file.
        </EmptyState>
      ) : (
        <ApplianceForm choices={choices} text={text} editing={null} formId={newId()} cancelHref="/appliances" />
      )}
    </>
  );
}
