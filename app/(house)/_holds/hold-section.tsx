import type { ReactNode } from "react";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { FieldStack, TextField } from "@/app/_ui/field";
import { SideSection } from "@/app/_ui/side-section";
import { SignalBanner } from "@/app/_ui/signal-banner";
import { type HoldKind, heldSentence } from "@/lib/registry/hold";
import type { Hold } from "@/lib/store/hold-queries";
import { hold, release } from "./actions";

interface Props {
  readonly kind: HoldKind;
  readonly id: string;
  readonly holds: readonly Hold[];
  readonly mayHold: boolean;
  /** What else belongs here, between the holds and the form that places one. */
  readonly children?: ReactNode;
}

/** The holds on an appliance or a site, and the ways to place and release one. */
export function HoldSection({ kind, id, holds, mayHold, children }: Props) {
  return (
    <SideSection head="Kept as it is" id="holds" note="After an incident, or because a court, an insurer or an authority asks for it.">
      <FieldStack>
        {holds.map((one) => (
          <div key={one.id}>
            <SignalBanner word="NOTICE">
              <p>{heldSentence(one)}</p>
            </SignalBanner>
            {mayHold && (
              <ActionForm action={release}>
                <input type="hidden" name="id" value={one.id} />
                <TextField label="Who released it, and why" name="why" required maxLength={1000} />
                <Acts>
                  <Button look="plain">Release the hold</Button>
                </Acts>
              </ActionForm>
            )}
          </div>
        ))}
        {holds.length === 0 && <p className="soft">No hold.</p>}
        {children}
        {mayHold && !holds.some(({ subjectKind }) => subjectKind === kind) && (
          <ActionForm action={hold} done="Held.">
            <input type="hidden" name="kind" value={kind} />
            <input type="hidden" name="id" value={id} />
            <TextField label="Who asked for a hold, and why" name="why" required maxLength={1000} />
            <Acts>
              <Button look="plain">{kind === "site" ? "Place a hold on the whole site" : "Place a hold"}</Button>
            </Acts>
          </ActionForm>
        )}
      </FieldStack>
    </SideSection>
  );
}
