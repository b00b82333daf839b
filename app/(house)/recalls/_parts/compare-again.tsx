"use client";

import { useActionState } from "react";
import { Button } from "@/app/_ui/button";
import { FormWord } from "@/app/_ui/field";
import { compareAll } from "../actions";

/** Compares everything afresh and says what came of it. */
export function CompareAgain() {
  const [result, send, isPending] = useActionState(compareAll, null);
  const done = result?.ok
    ? `${result.appliances} appliances compared with ${result.notices} notices: ${result.added} new, ${result.changed} changed, ${result.removed} no longer raised.`
    : undefined;
  return (
    <form action={send}>
      <Button disabled={isPending}>{isPending ? "Comparing…" : "Compare everything again"}</Button>
      <FormWord problem={result && !result.ok ? result.problem : undefined} done={done} />
    </form>
  );
}
