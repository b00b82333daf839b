import type { Metadata } from "next";
import { requirePage } from "@/app/_server/page";
import { PageHead } from "@/app/_ui/page-head";
import { SiteForm } from "../_parts/site-form";

export const metadata: Metadata = { title: "Add a site" };

export default async function NewSitePage() {
  await requirePage("edit places");
  return (
    <>
      <PageHead
        title="Add a site"
        lead="A building or campus; its units, circuits and outlets come next."
        crumbs={[{ label: "Building", href: "/building" }, { label: "new" }]}
      />
      <SiteForm site={{ id: null, name: "", timeZone: null, nominalVolts: null }} cancelHref="/building" />
    </>
  );
}
