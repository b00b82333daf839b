import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { PageHead } from "@/app/_ui/page-head";
import { draftChoices, draftOf } from "@/lib/registry/appliance-draft";
import { ApplianceForm } from "../../_parts/appliance-form";

export const metadata: Metadata = { title: "Change an appliance" };

export default async function EditAppliancePage({ params }: { params: Promise<{ id: string }> }) {
  const { db, actor } = await requirePage("edit appliances");
  const { id } = await params;
  const [choices, draft] = await Promise.all([draftChoices(db, actor), forPage(draftOf(db, actor, id))]);
  const name = [draft.text.brand, draft.text.model].filter(Boolean).join(" ") || draft.text.category || "appliance";
  return (
    <>
      <PageHead
        title={`Change ${name}`}
        crumbs={[{ label: "Appliances", href: "/appliances" }, { label: draft.tag, href: `/appliances/${id}` }, { label: "change" }]}
      />
      <ApplianceForm choices={choices} text={draft.text} editing={{ id, version: draft.version }} cancelHref={`/appliances/${id}`} />
    </>
  );
}
