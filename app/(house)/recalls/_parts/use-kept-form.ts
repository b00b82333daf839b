"use client";

import { type FormEvent, startTransition, useActionState, useEffect, useRef } from "react";

/** A server action as a form calls it. */
export type FormWork<R> = (previous: unknown, form: FormData) => Promise<R>;

/**
 * A form for a server action whose fields keep what was typed when the answer is no (a plain form action would empty them) and which is
 * not sent twice; they are emptied when it is yes. Without a script the form's action alone does the work. Spread `form` on the form element.
 */
export function useKeptForm<R extends { readonly ok: boolean }>(work: FormWork<R>) {
  const [result, send, isPending] = useActionState<R | null, FormData>((previous, form) => work(previous, form), null);
  const sent = useRef<HTMLFormElement>(null);
  useEffect(() => {
    if (result?.ok) sent.current?.reset();
  }, [result]);
  const onSubmit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    if (isPending) return;
    sent.current = event.currentTarget;
    const { submitter } = event.nativeEvent as SubmitEvent;
    const typed = new FormData(event.currentTarget, submitter);
    startTransition(() => send(typed));
  };
  return { result, isPending, form: { action: send, onSubmit, "aria-busy": isPending } as const };
}
