import type { ReactNode } from "react";
import { SideSection } from "@/app/_ui/side-section";
import type { PlacePlan } from "@/lib/registry/place-plan";

/** What each section of the page gets. */
export interface PlaceSectionProps {
  readonly plan: PlacePlan;
  readonly editId: string | null;
  /** The page without a unit, and as it is now. */
  readonly base: string;
  readonly here: string;
}

/** The address that opens a place's form. */
export function editHref(here: string, id: string, section: string): string {
  return `${here}${here.includes("?") ? "&" : "?"}edit=${id}#${section}`;
}

/** A kind of place: how many there are, the form, the table. */
export function PlaceSection(props: { head: string; id: string; count: number; form: ReactNode; children: ReactNode }) {
  return (
    <SideSection head={props.head} id={props.id} count={props.count === 0 ? "none yet" : `${props.count} laid out`}>
      {props.form}
      {props.children}
    </SideSection>
  );
}
