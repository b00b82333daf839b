import type { Metadata } from "next";
import { z } from "zod";
import { forPage, requirePage } from "@/app/_server/page";
import { EmptyState } from "@/app/_ui/empty-state";
import { PageHead } from "@/app/_ui/page-head";
import { mayDo } from "@/lib/access/permissions";
import { addressText } from "@/lib/registry/address-fields";
import { energyRules } from "@/lib/registry/energy-rules";
import { mySites } from "@/lib/registry/finding-list";
import { localDay } from "@/lib/watch/energy-hour";
import { ReadingsLinks } from "../../_parts/readings-links";
import { SiteChoice } from "../../_parts/site-choice";
import { LimitSection } from "./limit-section";
import { MeterSection } from "./meter-section";
import { TariffSection } from "./tariff-section";

export const metadata: Metadata = { title: "Tariffs and limits" };

const address = z.object({ site: addressText });

export default async function EnergyRulesPage({ searchParams }: { searchParams: Promise<Record<string, string | string[]>> }) {
  const { db, actor, now } = await requirePage("see readings");
  const sites = await mySites(db, actor);
  const siteId = address.parse(await searchParams).site ?? sites[0]?.id;
  const crumbs = [{ label: "Readings", href: "/readings" }, { label: "Energy", href: "/readings/energy" }, { label: "tariffs and limits" }];
  if (siteId === undefined)
    return (
      <>
        <PageHead title="Tariffs and limits" crumbs={crumbs} />
        <EmptyState head="No site yet">Lay out a site under Building first.</EmptyState>
      </>
    );
  const rules = await forPage(energyRules(db, actor, { siteId, now }));
  const mayEdit = mayDo(actor, "set site policy", siteId);
  const today = localDay(rules.site.timeZone, now.getTime());
  const { units, circuits } = rules.names;
  return (
    <>
      <PageHead
        title="Tariffs and limits"
        crumbs={crumbs}
        lead={`What energy costs at ${rules.site.name}, how much of it was agreed, and which outlets of its log are meters.`}
        cells={[
          { label: "Tariffs", value: String(rules.tariffs.length) },
          { label: "Use limits", value: String(rules.limits.length) },
          { label: "Meters", value: String(rules.meters.length) },
        ]}
      />
      <ReadingsLinks here="/readings/energy/rules" siteId={siteId} mayKeys={mayDo(actor, "manage API keys")} />
      <SiteChoice path="/readings/energy/rules" siteId={siteId} sites={sites} />
      <TariffSection siteId={siteId} tariffs={rules.tariffs} mayEdit={mayEdit} today={today} />
      <LimitSection
        siteId={siteId}
        limits={rules.limits}
        units={units}
        circuits={circuits}
        appliances={rules.appliances}
        mayEdit={mayEdit}
        today={today}
      />
      <MeterSection rules={rules} mayEdit={mayEdit} />
    </>
  );
}
