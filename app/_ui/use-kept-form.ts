"use client";

import { type FormEvent, startTransition, useActionState, useEffect, useRef, useState, useTransition } from "react";
import { answerOf, type LostAnswer } from "./lost-answer";

/** A server action as a form calls it. */
export type FormWork<R> = (previous: unknown, form: FormData) => Promise<R>;

/**
 * A form for a server action whose fields keep what was typed when the answer is no or none comes (a plain form action would empty them,
 * a lost connection the page) and which is not sent twice; they are emptied when it is yes. Without a script the form's action alone
 * does the work. Spread `form` on the form element.
 */
export function useKeptForm<R extends { readonly ok: boolean }>(work: FormWork<R>) {
  const [plain, sendPlainly] = useActionState<R | null, FormData>(work as (previous: unknown, form: FormData) => Promise<R>, null);
  const [scripted, setAnswer] = useState<R | LostAnswer | null>(null);
  const [isPending, startSending] = useTransition();
  const result = scripted ?? plain;
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
    startSending(async () => {
      const answer = await answerOf(() => work(result, typed));
      startTransition(() => setAnswer(answer));
    });
  };
  return { result, isPending, sent, form: { action: sendPlainly, onSubmit, "aria-busy": isPending } as const };
}
