"use client";

import { type ReactNode, useActionState } from "react";
import type { Action, ActionResult } from "@/app/_server/action";
import { FormWord } from "@/app/_ui/field";

/** A form that hands itself to a server action and says what went wrong. Its fields are drawn by the server. */
export function ActionForm({
  action,
  className,
  children,
}: {
  action: Action<never, object>;
  className?: string | undefined;
  children: ReactNode;
}) {
  const send = action as unknown as (previous: ActionResult<object> | null, form: FormData) => Promise<ActionResult<object>>;
  const [result, submit, pending] = useActionState(send, null);
  return (
    <form action={submit} className={className} aria-busy={pending}>
      {result?.ok === false && <FormWord problem={result.problem} />}
      {children}
    </form>
  );
}
