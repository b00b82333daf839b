import type { Metadata } from "next";
import { requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { cell, DataTable, figureColumn, spokenColumn, TableHead } from "@/app/_ui/data-table";
import { EmptyState } from "@/app/_ui/empty-state";
import { FormId } from "@/app/_ui/form-id";
import { PageHead } from "@/app/_ui/page-head";
import { PlainSection } from "@/app/_ui/side-section";
import { mayDo } from "@/lib/access/permissions";
import { listAliases, type ShownAlias } from "@/lib/registry/maker-alias";
import { dayWords } from "../_parts/grade-words";
import { JoinForm, PartForm } from "./join-form";
import styles from "./makers.module.css";

export const metadata: Metadata = { title: "Makers' names" };

export default async function MakersPage() {
  const { db, actor } = await requirePage("see recalls");
  const { standing, withdrawn } = await listAliases(db, actor);
  const mayEdit = mayDo(actor, "edit maker aliases");
  return (
    <>
      <PageHead
        title="Makers' names that belong together"
        crumbs={[{ label: "Recalls", href: "/recalls" }, { label: "Makers" }]}
        lead="A notice often names a firm, and the appliance bears its house brand or an abbreviation. Names joined here count as one maker when appliances are compared with notices. Legal forms, accents and punctuation are left out anyway."
        cells={[{ label: "Joined", value: figures(standing.length) }]}
      />
      <PlainSection head="Joined names">
        {standing.length === 0 ? (
          <EmptyState head="None joined yet">Names that only differ in case, punctuation or legal form need not be joined.</EmptyState>
        ) : (
          <Aliases aliases={standing} mayEdit={mayEdit} />
        )}
      </PlainSection>
      <PlainSection head="Join two names">
        {mayEdit ? (
          <div className={styles.form}>
            <JoinForm>
              <FormId />
            </JoinForm>
          </div>
        ) : (
          <p>An administrator joins names; tell yours which plate bears both.</p>
        )}
      </PlainSection>
      {withdrawn.length > 0 && (
        <PlainSection head="Withdrawn">
          <ul className={styles.withdrawn}>
            {withdrawn.map((alias) => (
              <li key={alias.id}>
                <b>{linkWords(alias)}</b>. {alias.by}, {dayWords(alias.at)}: {alias.reason}{" "}
                <span className="soft">
                  Withdrawn by {alias.withdrawnBy}
                  {alias.withdrawnAt && `, ${dayWords(alias.withdrawnAt)}`}: {alias.withdrawnWhy}
                </span>
              </li>
            ))}
          </ul>
        </PlainSection>
      )}
    </>
  );
}

function linkWords({ name, otherName, relation }: ShownAlias): string {
  return relation === "same" ? `${name} is the same firm as ${otherName}` : `${name} is a house brand of ${otherName}`;
}

function Aliases({ aliases, mayEdit }: { aliases: readonly ShownAlias[]; mayEdit: boolean }) {
  return (
    <DataTable caption="Joined names" cards top>
      <TableHead
        columns={["Names", "Known from", "Why", "By", figureColumn("Appliances"), ...(mayEdit ? [spokenColumn("Withdraw")] : [])]}
      />
      <tbody>
        {aliases.map((alias) => (
          <tr key={alias.id}>
            <td className={cell.wide}>
              <b>{alias.name}</b> {alias.relation === "same" ? "is the same firm as" : "is a house brand of"} <b>{alias.otherName}</b>
            </td>
            <td className={cell.wide}>{alias.origin}</td>
            <td className={cell.wide}>{alias.reason}</td>
            <td className="nw">
              {alias.by}
              <span className={cell.second}>{dayWords(alias.at)}</span>
            </td>
            <td className={cell.num} data-label="appliances">
              {figures(alias.appliances)}
            </td>
            {mayEdit && (
              <td className={cell.wide}>
                <details>
                  <summary>
                    Withdraw<span className="vh"> {linkWords(alias)}</span>
                  </summary>
                  <PartForm aliasId={alias.id} />
                </details>
              </td>
            )}
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
