import type { Metadata } from "next";
import Link from "next/link";
import { requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { Acts, ButtonLink } from "@/app/_ui/button";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { EmptyState } from "@/app/_ui/empty-state";
import { PageHead } from "@/app/_ui/page-head";
import { mayDo } from "@/lib/access/permissions";
import { listSites, type SiteLine } from "@/lib/registry/place-building";
import { openWordsLine } from "./_parts/open-words";

export const metadata: Metadata = { title: "Building" };

export default async function BuildingPage() {
  const { db, actor } = await requirePage("see places");
  const sites = await listSites(db, actor);
  const mayEdit = mayDo(actor, "edit places") && actor.siteIds === "all";
  const sum = (name: keyof SiteLine["counts"]) => sites.reduce((total, { counts }) => total + counts[name], 0);
  const act = mayEdit && (
    <Acts>
      <ButtonLink href="/building/new">Add a site</ButtonLink>
      <ButtonLink look="quiet" href="/bring-in">
        Bring in a places file
      </ButtonLink>
    </Acts>
  );
  return (
    <>
      <PageHead
        title="Building"
        lead="The sites, what is in them, and where the danger is."
        cells={[
          { label: "Sites", value: figures(sites.length) },
          { label: "Units", value: figures(sum("units")) },
          { label: "Circuits", value: figures(sum("circuits")) },
          { label: "Outlets", value: figures(sum("outlets")) },
        ]}
      />
      {sites.length === 0 ? (
        <EmptyState head="No site is laid out yet" action={act}>
          A site is a building or campus: its units, branch circuits and outlets come next, by form or from a places file.
        </EmptyState>
      ) : (
        <>
          <SiteTable sites={sites} />
          <div style={{ marginTop: "var(--s4)" }}>{act}</div>
        </>
      )}
    </>
  );
}

function SiteTable({ sites }: { sites: readonly SiteLine[] }) {
  return (
    <DataTable caption="Sites" cards>
      <TableHead columns={["Site", "Open", ...["Units", "Circuits", "Outlets", "Appliances"].map(figureColumn), "Supply"]} />
      <tbody>
        {sites.map(({ site, counts, open }) => (
          <tr key={site.id}>
            <th scope="row" className={cell.wide}>
              <Link href={`/building/${site.id}`}>{site.name}</Link>
            </th>
            <td className={cell.wide}>{openWordsLine(open) ?? <span className="mute">nothing</span>}</td>
            {(["units", "circuits", "outlets"] as const).map((name) => (
              <td key={name} className={cell.num} data-label={name}>
                {figures(counts[name])}
              </td>
            ))}
            <td className={cell.num} data-label="appliances">
              <Link href={`/appliances?site=${site.id}`}>{figures(counts.appliances)}</Link>
            </td>
            <td className={cell.gone}>
              {site.nominalVolts === null ? <span className="mute">volts not known</span> : `${site.nominalVolts} V`}
              <span className={cell.second}>{site.timeZone ?? "no time zone: its logs need times with an offset"}</span>
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
