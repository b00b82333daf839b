import type { Metadata } from "next";
import { requirePage } from "@/app/_server/page";
import { PageHead } from "@/app/_ui/page-head";
import { mayDo } from "@/lib/access/permissions";
import { listCompetences, listMembers } from "@/lib/registry/inspection-competence";
import { listInspectionPolicies } from "@/lib/registry/inspection-policy";
import { listInstruments } from "@/lib/registry/instrument";
import { CompetenceSection } from "./competence-section";
import { InstrumentSection } from "./instrument-section";
import { PolicySection } from "./policy-section";

export const metadata: Metadata = { title: "Means of inspection" };

export default async function MeansPage() {
  const { db, actor, now } = await requirePage("see inspections");
  const may = mayDo(actor, "keep inspection means");
  return (
    <>
      <PageHead
        title="Means of inspection"
        crumbs={[{ label: "Inspect", href: "/inspect" }, { label: "means" }]}
        lead="By what is inspected, by whom, and with what. An expired paper does not stop an inspection; it keeps it from counting as a pass."
      />
      <CompetenceSection rows={await listCompetences(db, actor)} members={await listMembers(db, actor)} may={may} now={now} />
      <InstrumentSection rows={await listInstruments(db, actor)} may={may} now={now} />
      {(await listInspectionPolicies(db, actor)).map(({ site, policy }) => (
        <PolicySection key={site.id} site={site} policy={policy} may={may} />
      ))}
    </>
  );
}
