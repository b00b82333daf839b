import { ActionForm } from "@/app/_ui/action-form";
import { Button } from "@/app/_ui/button";
import { takeRuleAwayAction } from "../actions";

/** Takes one rule away; what it said stays in the record. */
export function TakeAway({
  siteId,
  id,
  kind,
  name,
}: {
  siteId: string;
  id: string;
  kind: "tariff" | "limit" | "event" | "meter";
  name: string;
}) {
  return (
    <ActionForm action={takeRuleAwayAction}>
      <input type="hidden" name="siteId" value={siteId} />
      <input type="hidden" name="id" value={id} />
      <input type="hidden" name="kind" value={kind} />
      <Button look="quiet" aria-label={`Take away: ${name}`}>
        Take away
      </Button>
    </ActionForm>
  );
}
