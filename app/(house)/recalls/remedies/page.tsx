import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { Button, ButtonLink } from "@/app/_ui/button";
import { EmptyState } from "@/app/_ui/empty-state";
import { NamedOptions, SelectField, TextField } from "@/app/_ui/field";
import { FilterBar, FilterChips } from "@/app/_ui/filter-bar";
import { PageHead } from "@/app/_ui/page-head";
import { Pager } from "@/app/_ui/pager";
import { PlainSection } from "@/app/_ui/side-section";
import { settledShare } from "@/lib/casework/remedy-account";
import { type Remedies, type RemedyQuery, remediesAPage, remedyQuery, viewRemedies } from "@/lib/registry/remedies";
import { fileHref, remedyHref } from "./_parts/address";
import { EffectChart, EffectTable } from "./_parts/effect-chart";
import styles from "./_parts/remedies.module.css";
import { RemedyTable } from "./_parts/remedy-table";

export const metadata: Metadata = { title: "Remedies" };

export default async function RemediesPage({ searchParams }: { searchParams: Promise<Record<string, string | string[] | undefined>> }) {
  const { db, actor, now } = await requirePage("see recalls");
  const query = remedyQuery.parse(await searchParams);
  const view = await forPage(viewRemedies(db, actor, { query, now }));
  return (
    <>
      <Head view={view} />
      <Choice view={view} query={query} />
      <Notices view={view} query={query} />
      {view.effects.length > 0 && (
        <PlainSection
          head="Each site over time"
          id="sites"
          aside={
            <ButtonLink href={fileHref(query, "sites")} prefetch={false}>
              CSV
            </ButtonLink>
          }
        >
          <EffectChart effects={view.effects} />
          <p className="soft">
            A finding that was closed, opened again and closed once more counts as settled from its last closing. Appliances count at the
            site where they are now.
          </p>
          <EffectTable effects={view.effects} />
        </PlainSection>
      )}
    </>
  );
}

function Head({ view: { total } }: { view: Remedies }) {
  const share = settledShare(total);
  return (
    <PageHead
      title="Remedies"
      crumbs={[{ label: "Recalls", href: "/recalls" }, { label: "remedies" }]}
      lead={
        <>
          <b>
            {figures(total.settled)} of {figures(total.have)} settled
          </b>
          : repaired, replaced, removed, or the notice's remedy received.
        </>
      }
      cells={[
        { label: "Settled of have", value: share === null ? "–" : `${Math.round(share * 100)} %` },
        { label: "Found", value: figures(total.found) },
        { label: "Claims in progress", value: figures(total.registered + total.sent + total.received) },
      ]}
    />
  );
}

function Choice({ view, query }: { view: Remedies; query: RemedyQuery }) {
  const site = view.sites.find(({ id }) => id === query.site);
  const chips = [
    ...(query.q ? [{ label: `“${query.q}”`, offHref: remedyHref(query, { q: undefined }) }] : []),
    ...(query.site ? [{ label: site?.name ?? "a site that is not here", offHref: remedyHref(query, { site: undefined }) }] : []),
    ...(query.show ? [{ label: "also what is settled", offHref: remedyHref(query, { show: undefined }) }] : []),
  ];
  return (
    <>
      <FilterBar action="/recalls/remedies" key={JSON.stringify(query)}>
        <TextField
          label="Find a notice"
          name="q"
          type="search"
          defaultValue={query.q ?? ""}
          placeholder="Number, product, remedy, contact"
        />
        <SelectField label="Site" name="site" defaultValue={query.site ?? ""}>
          <option value="">all</option>
          <NamedOptions list={view.sites} />
        </SelectField>
        <SelectField label="Notices" name="show" defaultValue={query.show ?? ""}>
          <option value="">with something left to do</option>
          <option value="all">all that fit an appliance</option>
        </SelectField>
        <Button>Show</Button>
      </FilterBar>
      <FilterChips chips={chips} clearHref="/recalls/remedies" />
    </>
  );
}

function Account({ total }: { total: Remedies["total"] }) {
  const { undecided, unsure, found, have, waiting, registered, sent, received, settled, accepted, notAffected } = total;
  return (
    <p className={styles.account}>
      {figures(undecided)} undecided + {figures(unsure)} unsure + {figures(found)} found = <b>{figures(have)} we have</b>; of the found:{" "}
      {figures(waiting)} not claimed + {figures(registered)} registered + {figures(sent)} sent + {figures(received)} received +{" "}
      {figures(settled)} settled + {figures(accepted)} accepted with a reason = <b>{figures(found)}</b>. {figures(notAffected)} more fitted
      a notice and were found not affected.
    </p>
  );
}

function Notices({ view, query }: { view: Remedies; query: RemedyQuery }) {
  const { lines, total } = view;
  const pages = Math.max(1, Math.ceil(lines.length / remediesAPage));
  const at = Math.min(query.page ?? 1, pages);
  return (
    <PlainSection
      head="By notice"
      id="notices"
      aside={
        <ButtonLink href={fileHref(query, "notices")} prefetch={false}>
          CSV
        </ButtonLink>
      }
    >
      <Account total={total} />
      {lines.length === 0 ? (
        <EmptyState
          head="No notice has anything left to do"
          action={<ButtonLink href={remedyHref(query, { q: undefined, show: "all" })}>Show all</ButtonLink>}
        >
          Either nothing here fits a notice, or all of it is settled. No match found does not mean not recalled.
        </EmptyState>
      ) : (
        <>
          <RemedyTable lines={lines.slice((at - 1) * remediesAPage, at * remediesAPage)} />
          <Pager page={at} pages={pages} href={(page) => `${remedyHref(query, { page })}#notices`}>
            {figures(lines.length)} in all
          </Pager>
        </>
      )}
    </PlainSection>
  );
}
