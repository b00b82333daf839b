"use client";

import { useEffect, useRef, useState } from "react";

interface SeenProps extends Seen {
  /** The field; only a form with more than one mark gives one. */
  readonly name?: string | undefined;
}

interface Seen {
  readonly mark: string;
  readonly values: Readonly<Record<string, string | number | null>>;
}

/**
 * The mark of what the form was filled from when the person opened it. It stays while the page is drawn anew around what they typed, as
 * after another form of the page; once the form was saved and emptied it takes what is there now.
 */
export function SeenMark({ mark, values, name = "seen" }: SeenProps) {
  const [seen, setSeen] = useState<Seen>({ mark, values });
  const latest = useRef<Seen>(seen);
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => {
    latest.current = { mark, values };
  }, [mark, values]);
  useEffect(() => {
    const form = input.current?.form;
    const afresh = () => setSeen(latest.current);
    form?.addEventListener("reset", afresh);
    return () => form?.removeEventListener("reset", afresh);
  }, []);
  return <input ref={input} type="hidden" name={name} value={seen.mark} data-base={JSON.stringify(seen.values)} readOnly />;
}
