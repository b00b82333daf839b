"use client";

import { Button } from "@/app/_ui/button";
import { FormWord } from "@/app/_ui/field";
import { useKeptForm } from "@/app/_ui/use-kept-form";
import { compareAll } from "../actions";

/** Compares everything afresh and says what came of it. */
export function CompareAgain() {
  const { result, isPending, form } = useKeptForm(compareAll);
  const done = result?.ok
    ? `${result.appliances} appliances compared with ${result.notices} notices: ${result.added} new, ${result.changed} changed, ${result.removed} no longer raised.`
    : undefined;
  return (
    <form {...form}>
      <Button disabled={isPending}>{isPending ? "Comparing…" : "Compare everything again"}</Button>
      <FormWord problem={result && !result.ok ? result.problem : undefined} done={done} />
    </form>
  );
}
