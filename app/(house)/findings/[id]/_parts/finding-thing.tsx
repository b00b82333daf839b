import Link from "next/link";
import { DefinitionList } from "@/app/_ui/definition-list";
import { LimitBar } from "@/app/_ui/limit-bar";
import { Plate } from "@/app/_ui/plate";
import { TagChip } from "@/app/_ui/tag-chip";
import type { FindingDetail } from "@/lib/registry/finding-detail";
import { barUnit, plateOfFinding } from "../../_parts/plate-of-finding";
import styles from "./finding.module.css";

const applianceStates = { in_use: "in use", out_of_use: "out of use", retired: "retired" } as const;

/** The appliance as its plate, or the outlet, circuit or site that the finding is about. */
export function FindingThing({ detail }: { detail: FindingDetail }) {
  const { appliance, place, evidence, finding, title } = detail;
  const seen = evidence.seen;
  const unit = seen ? barUnit(seen.unit) : null;
  const where = [place.site, place.unit ? `unit ${place.unit}` : null, place.spot].filter(Boolean).join(", ");
  return (
    <div className={styles.thing}>
      {appliance ? <Plate size="card" plate={plateOfFinding(appliance)} href={`/appliances/${appliance.id}`} /> : <h2>{title}</h2>}
      {seen && unit && (
        <div className={styles.bar}>
          <LimitBar seen={seen.value} allowed={seen.limit} unit={unit} limitWord={appliance ? "allowed" : "limit"} />
        </div>
      )}
      <div className={styles.facts}>
        <DefinitionList
          entries={[
            ["Where", where],
            appliance ? ["Tag", <TagChip key="tag" tag={appliance.tag} href={`/appliances/${appliance.id}`} />] : null,
            appliance ? ["The appliance is", applianceStates[appliance.state]] : null,
            finding.noticeId
              ? [
                  "Notice",
                  <Link key="notice" href={`/recalls/${finding.noticeId}`}>
                    Read the notice in its own words
                  </Link>,
                ]
              : null,
            appliance
              ? [
                  "Other findings",
                  <Link key="others" href={`/findings?appliance=${appliance.id}&state=all`}>
                    All findings of this appliance
                  </Link>,
                ]
              : null,
          ]}
        />
      </div>
    </div>
  );
}
