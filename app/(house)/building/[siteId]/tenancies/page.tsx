import type { Metadata } from "next";
import Link from "next/link";
import { forPage, requirePage } from "@/app/_server/page";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { FieldColumns, NamedOptions, SelectField, TextField } from "@/app/_ui/field";
import { PageHead } from "@/app/_ui/page-head";
import { Seen } from "@/app/_ui/seen";
import { SideSection } from "@/app/_ui/side-section";
import { mayDo } from "@/lib/access/permissions";
import { occupantLanguages, occupantTexts } from "@/lib/casework/occupant-texts";
import { type SiteOccupants, siteOccupants } from "@/lib/registry/tenancy";
import { contactSeen } from "@/lib/registry/tenancy-contact";
import { newId } from "@/lib/store/ids";
import { contact, start } from "./actions";
import { TenancyTable } from "./tenancy-table";

interface Props {
  readonly params: Promise<{ siteId: string }>;
}

export const metadata: Metadata = { title: "Occupants" };

export default async function TenanciesPage({ params }: Props) {
  const { db, actor, now } = await requirePage("edit occupants");
  const { siteId } = await params;
  const all = await forPage(siteOccupants(db, actor, siteId));
  const isPast = ({ toAt }: { toAt: Date | null }) => toAt !== null && toAt <= now;
  const present = all.tenancies.filter((tenancy) => !isPast(tenancy));
  const past = all.tenancies.filter(isPast);
  return (
    <>
      <PageHead
        title="Occupants"
        lead="Who is told about an appliance of their unit. Names are never in the record, and can be erased when somebody has left."
        crumbs={[{ label: "Building", href: "/building" }, { label: all.site.name, href: `/building/${siteId}` }, { label: "occupants" }]}
      />
      <SideSection head="Whom they call" note="On every notice and sheet, and on the page of each tag. A number that is answered.">
        <ContactForm all={all} />
      </SideSection>
      <SideSection head="Living here" count={present.length}>
        <TenancyTable all={all} tenancies={present} today={now} />
      </SideSection>
      <SideSection head="Enter an occupant">
        <StartForm all={all} today={now} />
      </SideSection>
      {past.length > 0 && (
        <SideSection head="Left" count={past.length} note="Erase the name when nothing is open with them any more.">
          <TenancyTable all={all} tenancies={past} today={now} />
        </SideSection>
      )}
      {mayDo(actor, "edit occupant texts") && (
        <p>
          <Link href="/tenancies/texts">The words of the notice</Link>
        </p>
      )}
    </>
  );
}

function ContactForm({ all: { site, contact: known } }: { all: SiteOccupants }) {
  return (
    <ActionForm action={contact} done="Kept.">
      <input type="hidden" name="siteId" value={site.id} />
      <Seen values={contactSeen(known)} />
      <FieldColumns>
        <TextField label="Person or office" name="name" required maxLength={200} defaultValue={known?.name} />
        <TextField label="Telephone" name="phone" type="tel" required maxLength={60} defaultValue={known?.phone} />
        <TextField label="E-mail address" name="email" type="email" maxLength={254} defaultValue={known?.email ?? ""} />
      </FieldColumns>
      <Acts>
        <Button look="plain">Keep the contact</Button>
      </Acts>
    </ActionForm>
  );
}

function StartForm({ all: { units }, today }: { all: SiteOccupants; today: Date }) {
  return (
    <ActionForm action={start} done="Entered.">
      <input type="hidden" name="id" value={newId()} />
      <FieldColumns>
        <SelectField label="Unit" name="unitId" required defaultValue="">
          <option value="" disabled>
            choose
          </option>
          <NamedOptions list={units} />
        </SelectField>
        <TextField label="Occupant’s name" name="name" required maxLength={200} autoComplete="off" />
        <TextField
          label="Occupant’s e-mail address"
          name="email"
          type="email"
          maxLength={254}
          autoComplete="off"
          hint="May be empty: then notices are printed."
        />
      </FieldColumns>
      <FieldColumns>
        <SelectField label="Language" name="language" defaultValue="en">
          {occupantLanguages.map((language) => (
            <option key={language} value={language}>
              {occupantTexts[language].language_name}
            </option>
          ))}
        </SelectField>
        <TextField label="Since" name="fromAt" type="date" required defaultValue={today.toISOString().slice(0, 10)} />
        <TextField label="Note" name="note" maxLength={1000} hint="Such as: oxygen concentrator in use." />
      </FieldColumns>
      <Acts>
        <Button look="main">Enter</Button>
      </Acts>
    </ActionForm>
  );
}
