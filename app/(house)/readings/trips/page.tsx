import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { cell, DataTable, TableHead } from "@/app/_ui/data-table";
import { EmptyState } from "@/app/_ui/empty-state";
import { PageHead } from "@/app/_ui/page-head";
import { Pager } from "@/app/_ui/pager";
import { PlainSection } from "@/app/_ui/side-section";
import { TagChip } from "@/app/_ui/tag-chip";
import { mayDo } from "@/lib/access/permissions";
import { mySites } from "@/lib/registry/finding-list";
import { receptacleWords } from "@/lib/registry/place-name";
import { type ShownTrip, type SiteTrips, siteTrips, tripsAPage, tripsQuery } from "@/lib/registry/site-trips";
import type { TripVerdict } from "@/lib/watch/trip-verdict";
import { clockWords } from "../_parts/chart-words";
import { ReadingsLinks } from "../_parts/readings-links";
import { SiteChoice } from "../_parts/site-choice";

export const metadata: Metadata = { title: "Trips" };

const crumbs = [{ label: "Readings", href: "/readings" }, { label: "trips" }];

export default async function TripsPage({ searchParams }: { searchParams: Promise<Record<string, string | string[]>> }) {
  const { db, actor } = await requirePage("see readings");
  const query = tripsQuery.parse(await searchParams);
  const sites = await mySites(db, actor);
  const siteId = query.site ?? sites[0]?.id;
  if (siteId === undefined)
    return (
      <>
        <PageHead title="Trips" crumbs={crumbs} />
        <EmptyState head="No site yet">Lay out a site under Building first; trips come with the readings of its outlets.</EmptyState>
      </>
    );
  const view = await forPage(siteTrips(db, actor, { siteId, page: query.page }));
  return (
    <>
      <Head view={view} />
      <ReadingsLinks here="/readings/trips" siteId={siteId} mayKeys={mayDo(actor, "manage API keys")} />
      <SiteChoice path="/readings/trips" siteId={siteId} sites={sites} />
      <PlainSection head="Every trip that was told" id="trips">
        {view.total === 0 ? <None isJudgedAnew={view.isJudgedAnew} /> : <Trips view={view} />}
      </PlainSection>
    </>
  );
}

function Head({ view: { site, total, setAside, policy } }: { view: SiteTrips }) {
  return (
    <PageHead
      title="Trips"
      crumbs={crumbs}
      lead={
        <>
          <b>
            {figures(total - setAside)} of {figures(total)} trips
          </b>{" "}
          at {site.name} count as a fault's own; the others are set aside, each with its reason. By the site's policy {policy.tripCount}{" "}
          that count within {policy.tripDays} days are repeated trips.
        </>
      }
      cells={[
        { label: "Counted", value: figures(total - setAside) },
        { label: "Set aside", value: figures(setAside) },
      ]}
    />
  );
}

function None({ isJudgedAnew }: { isJudgedAnew: boolean }) {
  return isJudgedAnew ? (
    <EmptyState head="Judged anew just now">
      The readings of this site are being judged by a newer version: look again in a while.
    </EmptyState>
  ) : (
    <EmptyState head="No trip was told here">The readings of this site hold no row with the event "trip".</EmptyState>
  );
}

const verdictWords: Readonly<Record<TripVerdict, string>> = {
  counted: "Counted",
  commanded: "Set aside: commanded",
  supply: "Set aside: supply",
  coincident: "Set aside: coincident",
};

function Trips({ view }: { view: SiteTrips }) {
  const { trips, total, page, pages, site } = view;
  const first = (page - 1) * tripsAPage + 1;
  const zone = site.timeZone ?? "UTC";
  return (
    <>
      <DataTable caption="Trips, the latest first, counted or set aside" cards top>
        <TableHead columns={["When", "Where", "What was plugged in", "Counted?", "Why"]} />
        <tbody>
          {trips.map((shown) => (
            <TripRow key={keyOf(shown)} shown={shown} zone={zone} />
          ))}
        </tbody>
      </DataTable>
      <Pager page={page} pages={pages} href={(to) => `/readings/trips?site=${site.id}&page=${to}#trips`}>
        {`trips ${figures(first)} to ${figures(first + trips.length - 1)} of ${figures(total)}`}
      </Pager>
    </>
  );
}

const keyOf = ({ trip }: ShownTrip) => JSON.stringify([trip.atMs, trip.outlet, trip.receptacle, trip.tag, trip.cause]);

function TripRow({ shown: { trip, verdict, why, applianceId }, zone }: { shown: ShownTrip; zone: string }) {
  const receptacle = receptacleWords(trip.receptacle || null);
  return (
    <tr>
      <th scope="row" className="nw">
        {clockWords(trip.atMs, zone)}
      </th>
      <td>
        {trip.outlet}
        {receptacle && <span className={cell.second}>{receptacle}</span>}
      </td>
      <td data-label="Plugged in">
        {trip.tag === null ? (
          <span className="soft">not known</span>
        ) : (
          <TagChip tag={trip.tag} {...(applianceId ? { href: `/appliances/${applianceId}` } : {})} />
        )}
      </td>
      <td data-label="Counted?">{verdict === "counted" ? <b>{verdictWords.counted}</b> : verdictWords[verdict]}</td>
      <td className={cell.wide}>{why}</td>
    </tr>
  );
}
