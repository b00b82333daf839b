import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { EmptyState } from "@/app/_ui/empty-state";
import { FieldColumns, TextField } from "@/app/_ui/field";
import { PageHead } from "@/app/_ui/page-head";
import { PlainSection, SideSection } from "@/app/_ui/side-section";
import { KeepFresh } from "@/app/(house)/bring-in/keep-fresh";
import { packDays } from "@/lib/jobs/site-pack-job";
import { type SitePacks, viewSitePacks } from "@/lib/jobs/site-packs";
import { makePack } from "./actions";
import { PackTable } from "./pack-table";
import { PackWorks } from "./pack-works";

export const metadata: Metadata = { title: "Site pack" };

export default async function SitePackPage({ params }: { params: Promise<{ siteId: string }> }) {
  const { db, actor, now } = await requirePage("make site packs");
  const view = await forPage(viewSitePacks(db, actor, { siteId: (await params).siteId, now }));
  const { site, atWork, failed, packs } = view;
  return (
    <>
      {atWork.length > 0 && <KeepFresh everyMs={1500} />}
      <PageHead
        title="Site pack"
        crumbs={[{ label: "Building", href: "/building" }, { label: site.name, href: `/building/${site.id}` }, { label: "site pack" }]}
        lead="One document to hand to an inspector, an insurer or an owner, and its tables: findings, appliances, recalls, inspections, loads, decisions and people."
        cells={[
          { label: "Packs kept", value: packs.length },
          { label: "Each is kept", value: `${packDays} days` },
        ]}
      />
      <NewPack view={view} />
      {(atWork.length > 0 || failed.length > 0) && <PackWorks view={view} />}
      <PlainSection head="Packs kept" id="kept">
        {packs.length === 0 ? (
          <EmptyState head="No pack is kept">Choose a day above. A pack of some thousand appliances takes some seconds.</EmptyState>
        ) : (
          <PackTable view={view} />
        )}
      </PlainSection>
    </>
  );
}

function NewPack({ view: { site, today } }: { view: SitePacks }) {
  return (
    <SideSection
      head="Make a pack"
      note="The same data makes the same files, byte for byte; their SHA-256 shows it. Today’s pack tells the day so far. What cannot be known of an earlier day any more is marked in the pack."
    >
      <ActionForm action={makePack} done="It is being made. You may leave this page.">
        <input type="hidden" name="siteId" value={site.id} />
        <FieldColumns>
          <TextField
            label="Day"
            name="day"
            type="date"
            required
            max={today}
            defaultValue={today}
            hint={`By the site's clock, ${site.timeZone ?? "UTC"}.`}
          />
        </FieldColumns>
        <p className="small soft">
          The pack names the people who may act, in one table of its own. It is no inspection certificate; local codes and the authority
          having jurisdiction come first.
        </p>
        <Acts>
          <Button look="main">Make the pack</Button>
        </Acts>
      </ActionForm>
    </SideSection>
  );
}
