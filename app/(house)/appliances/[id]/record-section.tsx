import Link from "next/link";
import { PlainSection } from "@/app/_ui/side-section";
import { RecordLines } from "@/app/(house)/_record/record-lines";
import type { ApplianceView } from "@/lib/registry/appliance-view";

/** The latest entries of the record about it. The links are shown so that anyone can compare them. */
export function RecordSection({ view, maySeeAll }: { view: ApplianceView; maySeeAll: boolean }) {
  const zone = view.site?.timeZone ?? null;
  const { record, recordCount, appliance } = view;
  return (
    <PlainSection
      head="Record"
      aside={
        <span className="small soft">
          Append-only, each entry linked to the one before.{" "}
          {maySeeAll && recordCount > record.length && <Link href={`/record?subject=${appliance.id}`}>All {recordCount} entries</Link>}
        </span>
      }
    >
      <RecordLines lines={record} timeZone={zone} />
    </PlainSection>
  );
}
