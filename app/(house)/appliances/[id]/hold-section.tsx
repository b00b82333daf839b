import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { TextField } from "@/app/_ui/field";
import { SideSection } from "@/app/_ui/side-section";
import { SignalBanner } from "@/app/_ui/signal-banner";
import { heldSentence } from "@/lib/registry/hold";
import type { Hold } from "@/lib/store/hold-queries";
import { hold, release } from "./hold-actions";

/** The holds on an appliance, and the ways to place and release one. */
export function HoldSection({ id, holds, mayHold }: { id: string; holds: readonly Hold[]; mayHold: boolean }) {
  return (
    <SideSection head="Kept as it is" id="holds" note="After an incident, or because a court, an insurer or an authority asks for it.">
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
      <Acts>
        <ButtonLink href={`/appliances/${id}/incident`} look="plain">
          Report an incident
        </ButtonLink>
      </Acts>
      {mayHold && holds.length === 0 && (
        <ActionForm action={hold} done="Held.">
          <input type="hidden" name="kind" value="appliance" />
          <input type="hidden" name="id" value={id} />
          <TextField label="Who asked for a hold, and why" name="why" required maxLength={1000} />
          <Acts>
            <Button look="plain">Place a hold</Button>
          </Acts>
        </ActionForm>
      )}
    </SideSection>
  );
}
