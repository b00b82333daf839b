import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { Button } from "@/app/_ui/button";
import { Code } from "@/app/_ui/code";
import { FormWord, SelectField, TextField } from "@/app/_ui/field";
import { FilterBar, FilterChips } from "@/app/_ui/filter-bar";
import { PageHead } from "@/app/_ui/page-head";
import { SideSection } from "@/app/_ui/side-section";
import { stateWords } from "@/lib/registry/appliance-state";
import { type SiteThen, type ThenPage, type ThenQuery, thenQuery, viewSiteThen } from "@/lib/registry/site-then";
import { headText } from "@/lib/store/record-head";
import { timeWords } from "../../../appliances/_parts/time-words";
import { thenHref } from "./_parts/address";
import { AppliancesThen } from "./_parts/appliances-then";
import { DecisionsThen, FindingsThen, RecallsThen } from "./_parts/cases-then";

export const metadata: Metadata = { title: "As it was known" };

interface Props {
  params: Promise<{ siteId: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default async function ThenPageView({ params, searchParams }: Props) {
  const { db, actor, now } = await requirePage("see places");
  const query = thenQuery.parse(await searchParams);
  const page = await forPage(viewSiteThen(db, actor, { siteId: (await params).siteId, query, now }));
  return (
    <>
      <Head page={page} />
      <Choice page={page} query={query} />
      {page.problem !== null && <FormWord problem={page.problem} />}
      {page.known && (
        <>
          <Untold known={page.known} page={page} query={query} />
          <FindingsThen page={page} known={page.known} query={query} />
          <AppliancesThen page={page} known={page.known} query={query} />
          <RecallsThen page={page} known={page.known} query={query} />
          <DecisionsThen page={page} known={page.known} query={query} />
        </>
      )}
    </>
  );
}

function Head({ page: { site, day, known } }: { page: ThenPage }) {
  const crumbs = [
    { label: "Building", href: "/building" },
    { label: site.name, href: `/building/${site.id}` },
    { label: "as it was known" },
  ];
  if (known === null) return <PageHead title="As it was known" crumbs={crumbs} />;
  const { then, openFindings, byState } = known;
  const dangers = openFindings.filter(({ signalWord }) => signalWord === "DANGER").length;
  return (
    <PageHead
      title={`As it was known on ${day}`}
      crumbs={crumbs}
      lead={
        <>
          <b>
            {figures(openFindings.length)} {openFindings.length === 1 ? "finding" : "findings"} open, {figures(dangers)} of them DANGER
          </b>
          ; {figures(byState.in_use)} appliances in use, {figures(byState.out_of_use)} out of use, {figures(byState.retired)} retired.
        </>
      }
      cells={[
        { label: "Known at", value: timeWords(then.at, site.timeZone) },
        { label: "Record then", value: then.head ? `entry ${figures(then.head.number)}` : "no entry yet" },
        { label: "Notices known", value: figures(then.notices.size) },
      ]}
    />
  );
}

function Choice({ page: { site, day, today }, query }: { page: ThenPage; query: ThenQuery }) {
  const off = (changes: Partial<Record<keyof ThenQuery, undefined>>) => thenHref(site.id, query, changes);
  const chips = [
    ...(query.q ? [{ label: `“${query.q}”`, offHref: off({ q: undefined }) }] : []),
    ...(query.state ? [{ label: stateWords[query.state], offHref: off({ state: undefined }) }] : []),
    ...(query.told ? [{ label: "facts not certain", offHref: off({ told: undefined }) }] : []),
  ];
  return (
    <>
      <FilterBar action={`/building/${site.id}/then`} key={JSON.stringify(query)}>
        <TextField label="Find an appliance" name="q" type="search" defaultValue={query.q ?? ""} placeholder="Tag, maker, model, place" />
        <TextField label="End of the day" name="day" type="date" max={today} defaultValue={day} />
        <SelectField label="State" name="state" defaultValue={query.state ?? ""}>
          <option value="">all</option>
          {Object.entries(stateWords).map(([name, words]) => (
            <option key={name} value={name}>
              {words}
            </option>
          ))}
        </SelectField>
        {query.told && <input type="hidden" name="told" value={query.told} />}
        <Button>Show</Button>
      </FilterBar>
      <FilterChips chips={chips} clearHref={thenHref(site.id, { day: query.day }, {})} />
    </>
  );
}

function Untold({ known, page, query }: { known: SiteThen; page: ThenPage; query: ThenQuery }) {
  const { then, uncertain, undated } = known;
  return (
    <SideSection head="What cannot be told" id="untold" note="So that nobody takes more from this page than it holds.">
      <ul>
        <li>
          {uncertain === 0 ? (
            "Of every appliance the record tells all that changed since."
          ) : (
            <>
              <b>
                {figures(uncertain)} {uncertain === 1 ? "appliance was" : "appliances were"} changed since by something that left no before
                and after
              </b>{" "}
              in the record: their facts may be later ones, and are marked.{" "}
              <a href={`${thenHref(page.site.id, query, { told: "no" })}#appliances`}>Show these</a>
            </>
          )}
        </li>
        {undated > 0 && <li>Of {figures(undated)} open findings the record does not say when they were due then.</li>}
        <li>
          A place is where an appliance was at that instant, also where that was learnt later. Names of places and people are those of
          today.
        </li>
        <li>Grades and questions of recalls are as last compared; what was open and decided is as it stood then.</li>
      </ul>
      {then.head && (
        <p className="small soft">
          The record's end then: <Code wrap>{headText(then.head)}</Code>
        </p>
      )}
    </SideSection>
  );
}
