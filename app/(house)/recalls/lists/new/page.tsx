import type { Metadata } from "next";
import { requirePage } from "@/app/_server/page";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { PageHead } from "@/app/_ui/page-head";
import { SideSection } from "@/app/_ui/side-section";
import styles from "../_parts/lists.module.css";
import { SourceFields } from "../_parts/source-fields";
import { add } from "../actions";

export const metadata: Metadata = { title: "Add a list" };

/** Lists that can be read, and where their publishers have put them as far as is known. */
const known: readonly (readonly [publisher: string, address: string])[] = [
  ["US Consumer Product Safety Commission, recall web service (JSON)", "https://www.saferproducts.gov/RestWebServices/Recall?format=json"],
  [
    "Government of Canada, recalls and safety alerts (JSON)",
    "https://recalls-rappels.canada.ca/sites/default/files/opendata-donneesouvertes/HCRSAMOpenData.json",
  ],
  [
    "EU Safety Gate, the list of its weekly reports, each of which is fetched once (XML)",
    "https://ec.europa.eu/safety-gate-alerts/api/download/weeklyReport/list/xml/en",
  ],
  ["Any list in the plain form (CSV)", "where your own authority or firm keeps it"],
];

export default async function NewListPage() {
  await requirePage("load notices");
  return (
    <>
      <PageHead
        title="Add a list"
        crumbs={[{ label: "Recalls", href: "/recalls" }, { label: "Lists", href: "/recalls/lists" }, { label: "new" }]}
      />
      <SideSection head="The list" note="It is looked at straight away; what came of it stands on its page.">
        <ActionForm action={add}>
          <SourceFields />
          <Acts>
            <Button look="main">Add</Button>
            <ButtonLink href="/recalls/lists" look="quiet">
              Leave it
            </ButtonLink>
          </Acts>
        </ActionForm>
      </SideSection>
      <SideSection
        head="What can be read"
        note="Recognised by its content. Publishers move their lists: if nothing comes, look on their own pages."
      >
        <ul className={styles.known}>
          {known.map(([publisher, address]) => (
            <li key={publisher}>
              {publisher}
              <code>{address}</code>
            </li>
          ))}
        </ul>
      </SideSection>
    </>
  );
}
