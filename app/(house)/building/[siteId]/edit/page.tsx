import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { PageHead } from "@/app/_ui/page-head";
import { getSite } from "@/lib/registry/place-building";
import { SiteForm } from "../../_parts/site-form";

export const metadata: Metadata = { title: "Change a site" };

export default async function EditSitePage({ params }: { params: Promise<{ siteId: string }> }) {
  const { db, actor } = await requirePage("edit places");
  const { siteId } = await params;
  const site = await forPage(getSite(db, actor, siteId));
  return (
    <>
      <PageHead
        title={`Change ${site.name}`}
        crumbs={[{ label: "Building", href: "/building" }, { label: site.name, href: `/building/${siteId}` }, { label: "change" }]}
      />
      <SiteForm site={site} cancelHref={`/building/${siteId}`} />
    </>
  );
}
