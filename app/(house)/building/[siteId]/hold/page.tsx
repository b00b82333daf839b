import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { DataTable, TableHead } from "@/app/_ui/data-table";
import { PageHead } from "@/app/_ui/page-head";
import { PlainSection } from "@/app/_ui/side-section";
import { HoldSection } from "@/app/(house)/_holds/hold-section";
import { mayDo } from "@/lib/access/permissions";
import { type SiteHolds, viewSiteHolds } from "@/lib/registry/site-holds";
import { timeWords } from "../../../appliances/_parts/time-words";

export const metadata: Metadata = { title: "Hold on a site" };

export default async function SiteHoldPage({ params }: { params: Promise<{ siteId: string }> }) {
  const { db, actor } = await requirePage("see places");
  const view = await forPage(viewSiteHolds(db, actor, (await params).siteId));
  const { site, live, appliances } = view;
  return (
    <>
      <PageHead
        title="Hold"
        crumbs={[{ label: "Building", href: "/building" }, { label: site.name, href: `/building/${site.id}` }, { label: "hold" }]}
        lead="Under a hold nothing about the site's appliances is edited, retired, closed or taken back, and no reading is thinned out. Making safer, notes, photos and readings go on."
        cells={[
          { label: "This site", value: live.length > 0 ? "held" : "not held" },
          { label: "Appliances", value: figures(appliances) },
        ]}
      />
      <HoldSection kind="site" id={site.id} holds={live} mayHold={mayDo(actor, "place holds", site.id)} />
      {view.released.length > 0 && <Released view={view} />}
    </>
  );
}

function Released({ view: { site, released } }: { view: SiteHolds }) {
  return (
    <PlainSection head="Released">
      <DataTable caption="Holds on this site that were released, the latest first" cards>
        <TableHead columns={["Placed", "Why", "Released", "Why released"]} />
        <tbody>
          {released.map((one) => (
            <tr key={one.id}>
              <td className="nw">{timeWords(one.at, site.timeZone)}</td>
              <td data-label="why">{one.why}</td>
              <td className="nw" data-label="released">
                {one.releasedAt && timeWords(one.releasedAt, site.timeZone)}
              </td>
              <td data-label="why released">{one.releasedWhy}</td>
            </tr>
          ))}
        </tbody>
      </DataTable>
    </PlainSection>
  );
}
