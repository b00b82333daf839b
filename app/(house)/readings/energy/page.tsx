import type { Metadata } from "next";
import Link from "next/link";
import { forPage, requirePage } from "@/app/_server/page";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { EmptyState } from "@/app/_ui/empty-state";
import { PageHead } from "@/app/_ui/page-head";
import { PlainSection } from "@/app/_ui/side-section";
import { mayDo } from "@/lib/access/permissions";
import { type EnergyQuery, type EnergyView, energyQuery, energyView } from "@/lib/registry/energy-view";
import { ReadingsLinks } from "../_parts/readings-links";
import { CompareSection } from "./_parts/compare-section";
import { CostSection } from "./_parts/cost-section";
import styles from "./_parts/energy.module.css";
import { EnergyChart } from "./_parts/energy-chart";
import { EnergyFilter } from "./_parts/energy-filter";
import { energyHref, microjouleWords, money, timeLength } from "./_parts/energy-words";
import { SplitSection } from "./_parts/split-section";

export const metadata: Metadata = { title: "Energy" };

export default async function EnergyPage({ searchParams }: { searchParams: Promise<Record<string, string | string[]>> }) {
  const { db, actor } = await requirePage("see readings");
  const query = energyQuery.parse(await searchParams);
  const view = await forPage(energyView(db, actor, query));
  if (view === null)
    return (
      <>
        <PageHead title="Energy" crumbs={[{ label: "Readings", href: "/readings" }, { label: "energy" }]} />
        <EmptyState head="No site yet">Lay out a site under Building first; energy is booked to its outlets.</EmptyState>
      </>
    );
  return (
    <>
      <Head view={view} />
      <ReadingsLinks here="/readings/energy" siteId={view.site.id} mayKeys={mayDo(actor, "manage API keys")} />
      <EnergyFilter view={view} query={query} />
      {view.bars.length === 0 ? (
        <EmptyState head="No energy booked in these days">
          Energy is booked as a log is loaded, from its watts; or from volts, amps and power factor together. Choose other days, or load a
          log.
        </EmptyState>
      ) : (
        <Booked view={view} query={query} />
      )}
    </>
  );
}

function Head({ view }: { view: EnergyView }) {
  const { site, period, cost, microjoules, gapMs, due } = view;
  const [total] = cost.totals;
  return (
    <PageHead
      title="Energy"
      crumbs={[{ label: "Readings", href: "/readings" }, { label: "energy" }]}
      lead={
        <>
          <b>{microjouleWords(microjoules)} kWh</b> by {view.subject === "the whole site" ? site.name : `${view.subject}, ${site.name}`}. A
          tag moves with its appliance, so does its energy: booked by the hour to whoever was plugged in.
          {due > 0 && ` ${due} hours are still to be booked.`}
        </>
      }
      cells={[
        { label: "Days", value: period.fromDay === period.toDay ? period.fromDay : `${period.fromDay} to ${period.toDay}` },
        { label: "No reading", value: timeLength(gapMs) },
        ...(total ? [{ label: "Cost", value: money(total.currency, total.cost) }] : []),
      ]}
    />
  );
}

function Booked({ view, query }: { view: EnergyView; query: EnergyQuery }) {
  const { microjoules, unknown, measuredMs, gapMs, receptacles } = view;
  return (
    <>
      <EnergyChart view={view} />
      <p className={styles.account} id="account">
        {microjouleWords(microjoules - unknown)} kWh by known appliances + {microjouleWords(unknown)} kWh by nobody known ={" "}
        <b>{microjouleWords(microjoules)} kWh</b>, from {receptacles} {receptacles === 1 ? "receptacle" : "receptacles"} with readings,{" "}
        {timeLength(measuredMs)} measured.{" "}
        {gapMs === 0
          ? "No time is without readings."
          : `For ${timeLength(gapMs)} of receptacle time there was no reading: a reading holds 60 s at most, and nothing is filled in.`}
      </p>
      <SplitSection view={view} query={query} exportHref={energyHref(query, { site: view.site.id }, "/readings/energy/export")} />
      <CostSection view={view} />
      <CompareSection view={view} />
      <Meters view={view} />
    </>
  );
}

function Meters({ view }: { view: EnergyView }) {
  const { meters, names, site } = view;
  if (meters.length === 0)
    return (
      <PlainSection head="Meters" id="meters">
        <p className="soft">
          No meter's readings concern this selection, so the sum of the outlets is all that is known: what is hard-wired, and what has no
          readings, is not in it. <Link href={`/readings/energy/rules?site=${site.id}#meters`}>Say which outlet of the log is a meter</Link>
          .
        </p>
      </PlainSection>
    );
  const named = (list: readonly { id: string; name: string }[], id: string | null) => list.find((one) => one.id === id)?.name;
  return (
    <PlainSection head="Meters" id="meters">
      <div className={styles.figures}>
        <DataTable caption="Meters against the outlets behind them, over the hours that each measured" cards>
          <TableHead columns={["Meter", "Of", ...["Meter", "Outlets", "Not at an outlet"].map(figureColumn)]} />
          <tbody>
            {meters.map((line) => (
              <tr key={line.outletId}>
                <th scope="row">{named(names.outlets, line.outletId)}</th>
                <td>{line.circuitId === null ? "the site" : `circuit ${named(names.circuits, line.circuitId) ?? "gone"}`}</td>
                <td className={cell.num} data-label="meter">
                  {microjouleWords(line.metered)} kWh
                </td>
                <td className={cell.num} data-label="outlets">
                  {microjouleWords(line.outlets)} kWh
                </td>
                <td className={cell.num} data-label="not at an outlet">
                  <span className={line.unmetered < 0n ? "over" : undefined}>{microjouleWords(line.unmetered)} kWh</span>
                </td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      </div>
    </PlainSection>
  );
}
