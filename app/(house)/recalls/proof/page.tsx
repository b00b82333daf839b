import type { Metadata } from "next";
import { requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { EmptyState } from "@/app/_ui/empty-state";
import { FormWord, NamedOptions, SelectField, TextField } from "@/app/_ui/field";
import { FilterBar, FilterChips } from "@/app/_ui/filter-bar";
import { PageHead } from "@/app/_ui/page-head";
import { Pager } from "@/app/_ui/pager";
import { PlainSection } from "@/app/_ui/side-section";
import { SignalBanner } from "@/app/_ui/signal-banner";
import { proofOutcomeWords } from "@/lib/matching/negative-proof";
import { type NegativeProof, negativeProof, type ProofQuery, proofQuery } from "@/lib/registry/negative-proof";
import { type ProofEvent, proofEvents } from "@/lib/registry/proof-lists";
import { ProofTable, UnprovedTable } from "./_parts/appliance-table";
import { askedProof } from "./_parts/asked";
import { CountTable } from "./_parts/count-table";
import { EventTable, ListTable } from "./_parts/list-table";
import { proofHref, zonedWords } from "./_parts/proof-words";
import { Statement } from "./_parts/statement";

export const metadata: Metadata = { title: "What was checked" };

const rowsAPage = 50;
const eventsShown = 50;
const crumbs = [{ label: "Recalls", href: "/recalls" }, { label: "what was checked" }];

export default async function ProofPage({ searchParams }: { searchParams: Promise<Record<string, string | string[] | undefined>> }) {
  const { db, actor, now } = await requirePage("see recalls");
  const query = proofQuery.parse(await searchParams);
  const { proof, problem } = await askedProof(negativeProof(db, actor, { query, now }));
  if (proof === null) {
    return (
      <>
        <PageHead title="What was checked" crumbs={crumbs} />
        {problem === null ? (
          <EmptyState head="No site yet">
            Lay out a site under Building and record its appliances; then their recalls are checked.
          </EmptyState>
        ) : (
          <>
            <FormWord problem={problem} />
            <ButtonLink href={proofHref(query, { tag: undefined })}>Show the whole site</ButtonLink>
          </>
        )}
      </>
    );
  }
  const events = await proofEvents(db, actor, { now, appliance: proof.one });
  return <Proof proof={proof} query={query} events={events} />;
}

function Proof({ proof, query, events }: { proof: NegativeProof; query: ProofQuery; events: readonly ProofEvent[] }) {
  return (
    <>
      <PageHead
        title="What was checked"
        crumbs={crumbs}
        lead="Which version of which recall list was compared with which appliances, what came of it, and what could not be checked."
        cells={[
          { label: "Compared", value: zonedWords(proof.at, proof.site.timeZone) },
          { label: "Appliances", value: figures(proof.rows.length) },
          { label: "Notices", value: figures(proof.notices) },
        ]}
      />
      <Choice proof={proof} query={query} />
      <PlainSection head="Statement" id="statement">
        <Statement proof={proof} />
        <Acts>
          <ButtonLink href={proofHref(query, {}, "/recalls/proof/print")}>A page to print</ButtonLink>
          {(["appliances", "notices", "versions"] as const).map((table) => (
            <ButtonLink
              key={table}
              look="plain"
              prefetch={false}
              href={`${proofHref(query, { site: proof.site.id }, "/recalls/proof/export")}&table=${table}`}
            >
              CSV: {table}
            </ButtonLink>
          ))}
        </Acts>
      </PlainSection>
      {proof.differing > 0 && (
        <SignalBanner word="CAUTION">
          <p>
            <b>Of {figures(proof.differing)} appliances the stored comparison says otherwise than the one made for this page.</b> Press
            “Compare again” on the recalls page, so that what it shows is what is known.
          </p>
        </SignalBanner>
      )}
      <PlainSection head="What it came to" id="counts">
        <CountTable proof={proof} query={query} />
      </PlainSection>
      <PlainSection head="Lists" id="lists">
        {proof.lists.length === 0 ? <p className="soft">No recall list was loaded yet.</p> : <ListTable proof={proof} />}
      </PlainSection>
      <Appliances proof={proof} query={query} />
      <Notices proof={proof} query={query} />
      <PlainSection head="What was loaded and looked at when" id="versions">
        {events.length === 0 ? (
          <p className="soft">Nothing yet.</p>
        ) : (
          <EventTable events={events.slice(0, eventsShown)} timeZone={proof.site.timeZone} />
        )}
        {events.length > eventsShown && (
          <p className="soft">
            The latest {eventsShown} of {figures(events.length)}; all of them are in the CSV.
          </p>
        )}
      </PlainSection>
    </>
  );
}

function Choice({ proof, query }: { proof: NegativeProof; query: ProofQuery }) {
  const chips = [
    ...(query.tag ? [{ label: `appliance ${proof.one?.tag ?? query.tag}`, offHref: proofHref(query, { tag: undefined }) }] : []),
    ...(query.outcome ? [{ label: proofOutcomeWords[query.outcome], offHref: proofHref(query, { outcome: undefined }) }] : []),
  ];
  return (
    <>
      <FilterBar action="/recalls/proof" key={JSON.stringify(query)}>
        <TextField label="One appliance" name="tag" defaultValue={query.tag ?? ""} placeholder="Its tag; empty for the whole site" />
        <SelectField label="Site" name="site" defaultValue={proof.site.id}>
          <NamedOptions list={proof.sites} />
        </SelectField>
        <Button>Show</Button>
      </FilterBar>
      <FilterChips
        chips={chips}
        clearHref={proofHref({ site: query.site, tag: undefined, outcome: undefined, page: undefined, notices: undefined }, {})}
      />
    </>
  );
}

/** The part of a list that a page shows. */
function partOf<Row>(rows: readonly Row[], page: number | undefined) {
  const pages = Math.max(1, Math.ceil(rows.length / rowsAPage));
  const at = Math.min(page ?? 1, pages);
  return { rows: rows.slice((at - 1) * rowsAPage, at * rowsAPage), at, pages };
}

function Appliances({ proof, query }: { proof: NegativeProof; query: ProofQuery }) {
  const all = query.outcome ? proof.rows.filter(({ outcome }) => outcome === query.outcome) : proof.rows;
  const { rows, at, pages } = partOf(all, query.page);
  return (
    <PlainSection head="Appliances" id="appliances">
      {all.length === 0 ? <p className="soft">None.</p> : <ProofTable rows={rows} />}
      <Pager label="Pages of appliances" page={at} pages={pages} href={(page) => `${proofHref(query, { page })}#appliances`}>
        {figures(all.length)} in all
      </Pager>
    </PlainSection>
  );
}

function Notices({ proof, query }: { proof: NegativeProof; query: ProofQuery }) {
  const { rows, at, pages } = partOf(proof.unproved, query.notices);
  return (
    <PlainSection head="Notices that could not be compared in full" id="notices">
      {rows.length === 0 ? (
        <p className="soft">Every notice was compared, and all that it names was understood.</p>
      ) : (
        <UnprovedTable rows={rows} />
      )}
      <Pager label="Pages of notices" page={at} pages={pages} href={(notices) => `${proofHref(query, { notices })}#notices`}>
        {figures(proof.unproved.length)} in all
      </Pager>
    </PlainSection>
  );
}
