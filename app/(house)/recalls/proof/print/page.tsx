import type { Metadata } from "next";
import Link from "next/link";
import { requirePage } from "@/app/_server/page";
import { EmptyState } from "@/app/_ui/empty-state";
import { FormWord } from "@/app/_ui/field";
import { PageHead } from "@/app/_ui/page-head";
import { PlainSection } from "@/app/_ui/side-section";
import { negativeProof, proofQuery } from "@/lib/registry/negative-proof";
import { proofEvents } from "@/lib/registry/proof-lists";
import { UnprovedTable } from "../_parts/appliance-table";
import { askedProof } from "../_parts/asked";
import { CountTable } from "../_parts/count-table";
import { EventTable, ListTable } from "../_parts/list-table";
import { PrintedRows } from "../_parts/printed-rows";
import { proofHref } from "../_parts/proof-words";
import { Statement } from "../_parts/statement";

export const metadata: Metadata = { title: "What was checked, to print" };

export default async function ProofPrintPage({ searchParams }: { searchParams: Promise<Record<string, string | string[] | undefined>> }) {
  const { db, actor, organisation, now } = await requirePage("see recalls");
  const query = proofQuery.parse(await searchParams);
  const { proof, problem } = await askedProof(negativeProof(db, actor, { query, now }));
  if (problem !== null) return <FormWord problem={problem} />;
  if (proof === null) return <EmptyState head="No site yet">Lay out a site under Building and record its appliances.</EmptyState>;
  const events = await proofEvents(db, actor, { now, appliance: proof.one });
  return (
    <>
      <p className="noprint">
        Print this page, or save it as PDF by your browser. <Link href={proofHref(query, {})}>Back</Link>
      </p>
      <PageHead
        title={proof.one ? `What was checked: appliance ${proof.one.tag}` : `What was checked: ${proof.site.name}`}
        cells={[
          { label: "Organisation", value: organisation.name },
          { label: "Asked by", value: actor.name },
        ]}
      />
      <PlainSection head="Statement">
        <Statement proof={proof} />
      </PlainSection>
      <PlainSection head="What it came to">
        <CountTable proof={proof} />
      </PlainSection>
      <PlainSection head="Lists">{proof.lists.length > 0 && <ListTable proof={proof} />}</PlainSection>
      <PlainSection head="Appliances, what is worst first">
        <PrintedRows rows={proof.rows} />
      </PlainSection>
      <PlainSection head="Notices that could not be compared in full">
        {proof.unproved.length === 0 ? <p>None.</p> : <UnprovedTable rows={proof.unproved} />}
      </PlainSection>
      <PlainSection head="What was loaded and looked at when">
        <EventTable events={events} timeZone={proof.site.timeZone} />
      </PlainSection>
    </>
  );
}
