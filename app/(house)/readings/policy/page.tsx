import type { Metadata } from "next";
import { z } from "zod";
import { forPage, requirePage } from "@/app/_server/page";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { EmptyState } from "@/app/_ui/empty-state";
import { PageHead } from "@/app/_ui/page-head";
import { mayDo } from "@/lib/access/permissions";
import { addressText } from "@/lib/registry/address-fields";
import { mySites } from "@/lib/registry/finding-list";
import { viewSitePolicy } from "@/lib/registry/site-policy";
import { ReadingsLinks } from "../_parts/readings-links";
import { SiteChoice } from "../_parts/site-choice";
import { savePolicyAction } from "./actions";
import styles from "./policy.module.css";
import { PolicyFigureGroups, PolicyStandards } from "./policy-fields";

export const metadata: Metadata = { title: "Policy of a site" };

const address = z.object({ site: addressText });

export default async function PolicyPage({ searchParams }: { searchParams: Promise<Record<string, string | string[]>> }) {
  const { db, actor } = await requirePage("see readings");
  const { site } = address.parse(await searchParams);
  const sites = await mySites(db, actor);
  const siteId = site ?? sites[0]?.id;
  const crumbs = [{ label: "Readings", href: "/readings" }, { label: "policy" }];
  if (siteId === undefined)
    return (
      <>
        <PageHead title="Policy of a site" crumbs={crumbs} />
        <EmptyState head="No site yet">Lay out a site under Building first; the defaults hold until it states its own.</EmptyState>
      </>
    );
  const view = await forPage(viewSitePolicy(db, actor, siteId));
  const mayEdit = mayDo(actor, "set site policy", siteId);
  const count = Object.keys(view.stated.figures).length + Object.keys(view.stated.standards).length;
  return (
    <>
      <PageHead
        title={`Policy of ${view.site.name}`}
        crumbs={crumbs}
        lead={
          <>
            By these figures the readings of this site are judged.{" "}
            <b>{count === 0 ? "All are the defaults" : `${count} ${count === 1 ? "is" : "are"} its own`}</b>. Leave a field empty for the
            default.
          </>
        }
        cells={[
          { label: "Nominal", value: view.site.nominalVolts === null ? "not known" : `${view.site.nominalVolts} V` },
          { label: "Changed", value: view.stated.changedAt?.toISOString().slice(0, 10) ?? "never" },
        ]}
      />
      <ReadingsLinks here="/readings/policy" siteId={siteId} mayKeys={mayDo(actor, "manage API keys")} />
      <SiteChoice path="/readings/policy" siteId={siteId} sites={sites} />
      {mayEdit ? (
        <ActionForm key={`${siteId} ${view.stated.version}`} action={savePolicyAction} done="Kept. The readings were screened anew by it.">
          <input type="hidden" name="siteId" value={siteId} />
          <input type="hidden" name="version" value={view.stated.version} />
          <PolicyStandards view={view} mayEdit />
          <PolicyFigureGroups view={view} mayEdit />
          <div className={styles.acts}>
            <Acts>
              <Button look="main">Save and screen anew</Button>
              <ButtonLink look="quiet" href={`/readings/policy?site=${siteId}`}>
                Leave it as it was
              </ButtonLink>
            </Acts>
          </div>
        </ActionForm>
      ) : (
        <>
          <PolicyStandards view={view} mayEdit={false} />
          <PolicyFigureGroups view={view} mayEdit={false} />
        </>
      )}
    </>
  );
}
