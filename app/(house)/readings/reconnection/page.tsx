import type { Metadata } from "next";
import Link from "next/link";
import { z } from "zod";
import { forPage, requirePage } from "@/app/_server/page";
import { Button, ButtonLink } from "@/app/_ui/button";
import { EmptyState } from "@/app/_ui/empty-state";
import { NamedOptions, SelectField, TextField } from "@/app/_ui/field";
import { FilterBar } from "@/app/_ui/filter-bar";
import { PageHead } from "@/app/_ui/page-head";
import { SignalBanner } from "@/app/_ui/signal-banner";
import { mayDo } from "@/lib/access/permissions";
import { addressChoice, addressText } from "@/lib/registry/address-fields";
import { mySites } from "@/lib/registry/finding-list";
import { type ReconnectionView, reconnectionView } from "@/lib/registry/reconnection";
import { ReadingsLinks } from "../_parts/readings-links";
import { CircuitPlanSection } from "./_parts/circuit-plan";
import { ServiceSection } from "./_parts/service-section";
import { SiteSummary } from "./_parts/site-summary";

export const metadata: Metadata = { title: "Reconnection plan" };

const address = z.object({
  circuit: addressText,
  site: addressText,
  seed: z.coerce.number().int().min(0).max(999_999).catch(1),
  show: addressChoice(["all"]),
  service: z.coerce.number().positive().max(6000).nullable().catch(null),
});

export default async function ReconnectionPage({ searchParams }: { searchParams: Promise<Record<string, string | string[]>> }) {
  const { db, actor, now } = await requirePage("see readings");
  const { circuit, site, seed, show, service } = address.parse(await searchParams);
  const sites = await mySites(db, actor);
  const siteId = site ?? sites[0]?.id;
  const head = <PageHead title="Reconnection plan" crumbs={[{ label: "Readings", href: "/readings" }, { label: "reconnection" }]} />;
  if (siteId === undefined)
    return (
      <>
        {head}
        <EmptyState head="No site yet">Lay out a site with its circuits under Building first.</EmptyState>
      </>
    );
  const view = await forPage(reconnectionView(db, actor, { circuitId: circuit, siteId, seed, now }));
  return (
    <>
      <Head view={view} />
      <ReadingsLinks here="/readings/reconnection" siteId={view.site.id} mayKeys={mayDo(actor, "manage API keys")} />
      <Choose view={view} sites={sites} circuit={circuit} />
      <Cautions />
      {view.plans.length === 0 ? (
        <EmptyState head="No circuit is laid out here">
          Add circuits and outlets under Building, then the plan can say what to connect when.
        </EmptyState>
      ) : (
        <>
          {circuit === undefined && <SiteSummary view={view} />}
          {circuit === undefined && view.legs.length > 0 && <ServiceSection view={view} serviceAmps={service} />}
          {(circuit !== undefined || show === "all") &&
            view.plans
              .filter(({ plan }) => circuit !== undefined || plan.steps.length + plan.barred.length + plan.left.length > 0)
              .map((made) => <CircuitPlanSection key={made.circuit.id} made={made} />)}
        </>
      )}
      <p className="small soft">
        Waits are random, 15 to 30 s between outlets and 2 s between the receptacles of one, so that many plans do not start together:
        common practice, no source. Seed {view.seed} gives these waits again. Starts are the upper end of what is told of each kind of load,
        or what was seen, if that is more; after a long outage all thermostats call at once, so all are taken to run.
        {view.unplaced > 0 && ` ${view.unplaced} appliances of these units have no known outlet: they are in no plan, look for them.`}
      </p>
    </>
  );
}

function Head({ view }: { view: ReconnectionView }) {
  const steps = view.plans.reduce((sum, { plan }) => sum + plan.steps.length, 0);
  const barred = view.plans.reduce((sum, { plan }) => sum + plan.barred.length, 0);
  return (
    <PageHead
      title="Reconnection plan"
      crumbs={[{ label: "Readings", href: "/readings" }, { label: "reconnection" }]}
      lead={
        <>
          After an outage at <Link href={`/building/${view.site.id}`}>{view.site.name}</Link>: <b>{steps}</b> appliances one after the
          other, <b>{barred}</b> not at all. People do the switching; this page only says in which order.
        </>
      }
      cells={[
        { label: "Circuits", value: String(view.plans.length) },
        { label: "Seed", value: String(view.seed) },
      ]}
    />
  );
}

function Choose({
  view,
  sites,
  circuit,
}: {
  view: ReconnectionView;
  sites: Awaited<ReturnType<typeof mySites>>;
  circuit: string | undefined;
}) {
  return (
    <FilterBar action="/readings/reconnection" key={`${view.site.id} ${circuit} ${view.seed}`}>
      <SelectField label="Site" name="site" defaultValue={view.site.id}>
        <NamedOptions list={sites} />
      </SelectField>
      <SelectField label="Circuit" name="circuit" defaultValue={circuit ?? ""}>
        <option value="">all of the site</option>
        <NamedOptions list={view.circuits} />
      </SelectField>
      <TextField label="Seed" name="seed" defaultValue={view.seed} inputMode="numeric" />
      <Button>Show</Button>
      <ButtonLink
        look="quiet"
        href={`/readings/reconnection?site=${view.site.id}${circuit ? `&circuit=${circuit}` : ""}&seed=${(view.seed * 7 + 11) % 1_000_000}`}
      >
        Other waits
      </ButtonLink>
    </FilterBar>
  );
}

function Cautions() {
  return (
    <SignalBanner word="WARNING" stacked>
      <p>
        <b>Unplug or switch off everything on the circuit before the supply comes back.</b> Reset a breaker once only, after what tripped it
        is unplugged. If it trips again, leave it off and call a licensed electrician; never fit a larger one.
      </p>
      <p>
        Nothing that smells, is warm, wet or damaged is connected again. Medical and life-safety equipment comes first and is asked for by
        name. Local codes and the authority having jurisdiction come before this plan.
      </p>
    </SignalBanner>
  );
}
