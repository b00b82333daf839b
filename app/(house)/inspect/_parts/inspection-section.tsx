import Link from "next/link";
import { Acts, ButtonLink } from "@/app/_ui/button";
import { PlainSection } from "@/app/_ui/side-section";
import { dayWords } from "@/app/(house)/appliances/_parts/time-words";
import type { Actor } from "@/lib/access/actor";
import { mayDo } from "@/lib/access/permissions";
import { inspectionsOfAppliance } from "@/lib/registry/inspection-sheet";
import type { Db } from "@/lib/store/client";
import { dueDay } from "./due-day";

const mostShown = 10;

interface Props {
  db: Db;
  actor: Actor;
  applianceId: string;
  siteId: string;
  timeZone: string | null;
}

/** The inspections of an appliance for its page: the latest first, and the way to make one. */
export async function InspectionSection({ db, actor, applianceId, siteId, timeZone }: Props) {
  if (!mayDo(actor, "see inspections", siteId)) return null;
  const rows = await inspectionsOfAppliance(db, actor, applianceId);
  return (
    <PlainSection head="Inspections" id="inspections" aside={<span className="small soft">{rows.length} recorded</span>}>
      {rows.length === 0 && <p className="soft">Never inspected.</p>}
      <ul>
        {rows.slice(0, mostShown).map((row) => (
          <li key={row.id}>
            <Link href={`/inspect/done/${row.id}`}>
              {dayWords(row.at, timeZone)}, {row.result}
            </Link>
            , {row.signedName}
            {row.nextDueAt && `, next due ${dueDay(row.nextDueAt)}`}
            {row.correctedById && " (corrected by a later one)"}
          </li>
        ))}
      </ul>
      {mayDo(actor, "record inspections", siteId) && (
        <Acts>
          <ButtonLink href={`/inspect/${applianceId}`}>Inspect it</ButtonLink>
        </Acts>
      )}
    </PlainSection>
  );
}
