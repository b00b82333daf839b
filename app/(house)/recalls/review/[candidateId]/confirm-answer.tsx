"use client";

import { Button } from "@/app/_ui/button";
import { FormWord } from "@/app/_ui/field";
import { useKeptForm } from "@/app/_ui/use-kept-form";
import { answerCandidate } from "./actions";

/** Somebody of the staff read the same on the label as the occupant said: now it counts. */
export function ConfirmAnswer(props: { candidateId: string; field: string; value: string; words: string }) {
  const { candidateId, field, value, words } = props;
  const { result, isPending, form } = useKeptForm(answerCandidate);
  return (
    <form {...form}>
      <input type="hidden" name="candidateId" value={candidateId} />
      <input type="hidden" name="field" value={field} />
      <input type="hidden" name="value" value={value} />
      <Button look="quiet" disabled={isPending}>
        I have read this {words} on the label myself
      </Button>
      <FormWord problem={result && !result.ok ? result.problem : undefined} />
    </form>
  );
}
