import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { Button, ButtonLink } from "@/app/_ui/button";
import { EmptyState } from "@/app/_ui/empty-state";
import { NamedOptions, SelectField } from "@/app/_ui/field";
import { FilterBar, type FilterChip, FilterChips } from "@/app/_ui/filter-bar";
import { PageHead } from "@/app/_ui/page-head";
import { Pager } from "@/app/_ui/pager";
import { PlainSection } from "@/app/_ui/side-section";
import { mayDo } from "@/lib/access/permissions";
import { causeWords, isFindingCause } from "@/lib/casework/cause";
import { signalWords } from "@/lib/casework/signal-word";
import { mySites } from "@/lib/registry/finding-list";
import {
  type ReadingsOverview,
  type ReadingsQuery,
  readingsOverview,
  readingsQuery,
  resultKinds,
  resultsAPage,
} from "@/lib/registry/readings-overview";
import { readingsHref, readingsPath } from "./_parts/address";
import { clockWords } from "./_parts/chart-words";
import { LoadsSection } from "./_parts/loads-section";
import { OutletSection } from "./_parts/outlet-section";
import { ReadingsLinks } from "./_parts/readings-links";
import { ResultTable } from "./_parts/result-table";

export const metadata: Metadata = { title: "Readings" };

type Sites = Awaited<ReturnType<typeof mySites>>;

export default async function ReadingsPage({ searchParams }: { searchParams: Promise<Record<string, string | string[]>> }) {
  const { db, actor } = await requirePage("see readings");
  const query = readingsQuery.parse(await searchParams);
  const [overview, sites] = await Promise.all([forPage(readingsOverview(db, actor, query)), mySites(db, actor)]);
  const timeZone = sites.find((site) => site.timeZone !== null)?.timeZone ?? "UTC";
  const mayLoad = mayDo(actor, "load log");
  const instant = (at: Date | null) => (at === null ? "none" : clockWords(at.getTime(), timeZone));
  return (
    <>
      <PageHead
        title="Readings"
        lead={
          <>
            <b>{figures(overview.total)}</b> screening {overview.total === 1 ? "result" : "results"}. Each is a stretch beyond a limit, or
            trips that repeat; what to do about them stands under Findings.
          </>
        }
        cells={[
          { label: "Kept from", value: instant(overview.from) },
          { label: "Up to", value: instant(overview.until) },
        ]}
      />
      <ReadingsLinks here="/readings" siteId={query.site} mayKeys={mayDo(actor, "manage API keys")} />
      <Results overview={overview} query={query} sites={sites} />
      <OutletSection db={db} actor={actor} query={query} overview={overview} />
      <LoadsSection runs={overview.runs} mayLoad={mayLoad} timeZone={timeZone} />
    </>
  );
}

function chipsOf(query: ReadingsQuery, sites: Sites): FilterChip[] {
  const off = (part: Partial<Record<keyof ReadingsQuery, undefined>>) => readingsHref(query, { ...part, page: undefined }, "#results");
  return [
    ...(query.kind && isFindingCause(query.kind)
      ? [{ label: causeWords[query.kind].toLowerCase(), offHref: off({ kind: undefined }) }]
      : []),
    ...(query.word ? [{ label: query.word, offHref: off({ word: undefined }) }] : []),
    ...(query.site
      ? [{ label: `site ${sites.find(({ id }) => id === query.site)?.name ?? "unknown"}`, offHref: off({ site: undefined }) }]
      : []),
  ];
}

function Results({ overview, query, sites }: { overview: ReadingsOverview; query: ReadingsQuery; sites: Sites }) {
  const { results, total, page, pages } = overview;
  const chips = chipsOf(query, sites);
  const first = (page - 1) * resultsAPage + 1;
  const exportHref = readingsHref(query, { page: undefined }).replace(readingsPath, `${readingsPath}/export`);
  return (
    <PlainSection
      head="What the screening found"
      id="results"
      aside={
        total > 0 && (
          <a className="small" href={exportHref} download>
            Export {figures(total)} as CSV
          </a>
        )
      }
    >
      <FilterBar action="/readings" key={JSON.stringify([query.kind, query.word, query.site])}>
        <SelectField label="Kind" name="kind" defaultValue={query.kind ?? ""}>
          <option value="">any</option>
          {resultKinds.map((kind) => (
            <option key={kind} value={kind}>
              {isFindingCause(kind) ? causeWords[kind] : kind}
            </option>
          ))}
        </SelectField>
        <SelectField label="Word" name="word" defaultValue={query.word ?? ""}>
          <option value="">any</option>
          {signalWords.map((word) => (
            <option key={word}>{word}</option>
          ))}
        </SelectField>
        {sites.length > 1 && (
          <SelectField label="Site" name="site" defaultValue={query.site ?? ""}>
            <option value="">all</option>
            <NamedOptions list={sites} />
          </SelectField>
        )}
        <Button>Show</Button>
      </FilterBar>
      <FilterChips chips={chips} clearHref="/readings#results" />
      {results.length === 0 ? (
        <EmptyState
          head="No result"
          action={chips.length > 0 ? <ButtonLink href="/readings#results">Show all results</ButtonLink> : undefined}
        >
          {chips.length > 0
            ? "Take a filter off to see more."
            : "Nothing beyond a limit was seen in the readings that are kept. What was not measured is not known."}
        </EmptyState>
      ) : (
        <>
          <ResultTable rows={results} query={query} />
          <Pager page={page} pages={pages} href={(n) => readingsHref(query, { page: n === 1 ? undefined : n }, "#results")}>
            {figures(first)} to {figures(first + results.length - 1)} of {figures(total)}
          </Pager>
        </>
      )}
    </PlainSection>
  );
}
