import type { Metadata } from "next";
import Link from "next/link";
import { z } from "zod";
import { forPage, requirePage } from "@/app/_server/page";
import { EmptyState } from "@/app/_ui/empty-state";
import { PageHead } from "@/app/_ui/page-head";
import { mayDo } from "@/lib/access/permissions";
import { addressText } from "@/lib/registry/address-fields";
import { demandView } from "@/lib/registry/demand-response";
import { mySites } from "@/lib/registry/finding-list";
import { localDay } from "@/lib/watch/energy-hour";
import { clockWords } from "../../_parts/chart-words";
import { ReadingsLinks } from "../../_parts/readings-links";
import { SiteChoice } from "../../_parts/site-choice";
import styles from "../_parts/energy.module.css";
import { EventForm } from "./event-form";
import { EventSection } from "./event-section";

export const metadata: Metadata = { title: "Demand response" };

const address = z.object({ site: addressText, event: addressText });
const path = "/readings/energy/events";

export default async function DemandPage({ searchParams }: { searchParams: Promise<Record<string, string | string[]>> }) {
  const { db, actor, now } = await requirePage("see readings");
  const { site, event } = address.parse(await searchParams);
  const sites = await mySites(db, actor);
  const chosen = sites.find(({ id }) => id === site) ?? (site === undefined ? sites[0] : undefined);
  const crumbs = [{ label: "Readings", href: "/readings" }, { label: "Energy", href: "/readings/energy" }, { label: "demand response" }];
  if (chosen === undefined)
    return (
      <>
        <PageHead title="Demand response" crumbs={crumbs} />
        <EmptyState head="No such site">Choose a site under Building, or lay one out first.</EmptyState>
      </>
    );
  const view = await forPage(demandView(db, actor, { siteId: chosen.id, eventId: event }));
  const zone = chosen.timeZone ?? "UTC";
  return (
    <>
      <PageHead
        title="Demand response"
        crumbs={crumbs}
        lead={
          <>
            <b>{view.events.length}</b> {view.events.length === 1 ? "event" : "events"} at {chosen.name}: what each appliance used, against
            the mean of the same hours on similar days before it.
          </>
        }
      />
      <ReadingsLinks here={path} siteId={chosen.id} mayKeys={mayDo(actor, "manage API keys")} />
      <SiteChoice path={path} siteId={chosen.id} sites={sites} />
      {view.events.length > 0 && (
        <nav className={styles.events} aria-label="Events">
          {view.events.map((one) => (
            <Link
              key={one.id}
              href={`${path}?site=${chosen.id}&event=${one.id}`}
              aria-current={one.id === view.event?.id ? "true" : undefined}
            >
              {one.name}, {clockWords(one.fromAt.getTime(), zone)}
            </Link>
          ))}
        </nav>
      )}
      {view.event === null ? (
        <EmptyState head="No event yet">An event is a time in which less was asked for. Add it with its hours, before or after.</EmptyState>
      ) : (
        <EventSection view={view} zone={zone} siteId={chosen.id} mayEdit={mayDo(actor, "set site policy", chosen.id)} />
      )}
      {mayDo(actor, "set site policy", chosen.id) && <EventForm siteId={chosen.id} today={localDay(zone, now.getTime())} />}
    </>
  );
}
