import type { Metadata } from "next";
import Link from "next/link";
import { requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { cell, DataTable } from "@/app/_ui/data-table";
import { EmptyState } from "@/app/_ui/empty-state";
import { PageHead } from "@/app/_ui/page-head";
import { PlainSection } from "@/app/_ui/side-section";
import { findUnidentified, type UnidentifiedGroup } from "@/lib/registry/notice-view";
import { dayWords } from "../_parts/grade-words";
import styles from "../_parts/recalls.module.css";

export const metadata: Metadata = { title: "Notices without identifiers" };

export default async function WithoutIdentifiersPage() {
  const { db, actor } = await requirePage("see recalls");
  const groups = await findUnidentified(db, actor);
  const pointing = groups.filter(({ appliances }) => appliances > 0);
  const rest = groups.filter(({ appliances }) => appliances === 0);
  return (
    <>
      <PageHead
        title="Notices without identifiers"
        crumbs={[{ label: "Recalls", href: "/recalls" }, { label: "Without identifiers" }]}
        lead="They name no model, serial, date code or product number, so only maker and kind can be compared. Read the notice and look at the appliance."
        cells={[
          { label: "Groups", value: figures(groups.length) },
          { label: "Pointing at appliances", value: figures(pointing.length) },
        ]}
      />
      <Group head="Maker and kind occur in the registry" groups={pointing} />
      <Group head="Nothing in the registry of that maker and kind" groups={rest} />
    </>
  );
}

function Group({ head, groups }: { head: string; groups: readonly UnidentifiedGroup[] }) {
  return (
    <PlainSection head={head}>
      {groups.length === 0 ? (
        <EmptyState head="None">No loaded notice belongs here. No match found does not mean not recalled.</EmptyState>
      ) : (
        <DataTable caption={head} cards top>
          <thead>
            <tr>
              <th scope="col">Maker</th>
              <th scope="col">Product</th>
              <th scope="col">Notices</th>
              <th scope="col" className={cell.num}>
                Appliances
              </th>
            </tr>
          </thead>
          <tbody>
            {groups.map(({ maker, kind, notices, appliances }) => (
              <tr key={`${maker} ${kind}`}>
                <td>
                  <b>{maker}</b>
                </td>
                <td>{kind}</td>
                <td className={cell.wide}>
                  {notices.map(({ id, number, date, title }) => (
                    <span key={id} className={styles.quoted}>
                      <Link className={styles.number} href={`/recalls/${id}`}>
                        {number}
                      </Link>
                      {date && ` (${dayWords(date)})`} {title}
                    </span>
                  ))}
                </td>
                <td className={cell.num} data-label="appliances">
                  {figures(appliances)}
                </td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
    </PlainSection>
  );
}
