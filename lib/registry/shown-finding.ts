import { causeWords } from "@/lib/casework/cause";
import { type FindingEvidence, readEvidence } from "@/lib/casework/finding-evidence";
import type { CaseFacts } from "@/lib/casework/step";
import type { Db } from "@/lib/store/client";
import { type FindingThings, thingsOf } from "@/lib/store/finding-list-queries";
import type { Finding } from "@/lib/store/rows";
import { receptacleWords } from "./place-name";
import { caseFacts } from "./take-step";

/** Where a finding's thing is, as it is said. */
export interface FindingPlace {
  readonly site: string;
  readonly unit: string | null;
  /** Outlet and receptacle, or the circuit. */
  readonly spot: string | null;
}

/** A finding as pages show it. */
export interface ShownFinding {
  readonly finding: Finding;
  readonly facts: CaseFacts;
  readonly evidence: FindingEvidence;
  readonly owner: string | null;
  readonly appliance: NonNullable<ReturnType<FindingThings["appliances"]["get"]>> | null;
  readonly place: FindingPlace;
  /** IANA zone of the site; UTC where it has none. */
  readonly timeZone: string;
  /** What it is about, where it is not an appliance: `Circuit A-1`. */
  readonly title: string;
}

function spotOf(things: FindingThings, finding: Finding): { unitId: string | null; spot: string | null } {
  const appliance = things.appliances.get(finding.applianceId ?? "");
  const outlet = things.outlets.get((appliance ? appliance.outletId : finding.outletId) ?? "");
  const circuit = things.circuits.get(finding.circuitId ?? "");
  if (outlet) {
    const receptacle = appliance ? receptacleWords(appliance.receptacle, outlet.receptacles) : null;
    const spot = `outlet ${outlet.name}${receptacle === null ? "" : `, ${receptacle}`}`;
    return { unitId: appliance?.unitId ?? outlet.unitId, spot };
  }
  if (appliance) return { unitId: appliance.unitId, spot: null };
  return circuit ? { unitId: circuit.unitId, spot: `circuit ${circuit.name}` } : { unitId: null, spot: null };
}

function titleOf(things: FindingThings, finding: Finding, site: string): string {
  const outlet = things.outlets.get(finding.outletId ?? "");
  const circuit = things.circuits.get(finding.circuitId ?? "");
  if (outlet) return `Outlet ${outlet.name}`;
  return circuit ? `Circuit ${circuit.name}` : site;
}

/** Findings with the things they name, in the order given. */
export async function showFindings(db: Db, findings: readonly Finding[]): Promise<ShownFinding[]> {
  const things = await thingsOf(db, findings);
  return findings.map((finding) => {
    const site = things.sites.get(finding.siteId);
    const { unitId, spot } = spotOf(things, finding);
    const place = { site: site?.name ?? "a site that is gone", unit: things.units.get(unitId ?? "")?.name ?? null, spot };
    return {
      finding,
      facts: caseFacts(finding),
      evidence: readEvidence(finding.evidence),
      owner: things.people.get(finding.ownerId ?? "")?.name ?? null,
      appliance: things.appliances.get(finding.applianceId ?? "") ?? null,
      place,
      timeZone: site?.timeZone ?? "UTC",
      title: titleOf(things, finding, place.site),
    };
  });
}

/** The cause in words. */
export function causeOf(shown: Pick<ShownFinding, "facts">): string {
  return causeWords[shown.facts.cause];
}
