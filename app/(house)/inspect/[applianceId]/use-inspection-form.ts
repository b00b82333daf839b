"use client";

import { useEffect, useRef, useState } from "react";
import { type KeptInspection, type KeptPhoto, type KeptSubject, keep, keyOf, readKept } from "../_parts/kept-inspections";
import { keepPages } from "../_parts/offline-pages";
import { outbox, type Recorded, type Sent } from "../_parts/sending";
import type { FormValues } from "./form-values";
import { newFormId } from "./new-form-id";

export type FormState =
  | { readonly step: "typing"; readonly problem: string | null }
  | { readonly step: "waiting"; readonly why: string | null }
  | { readonly step: "recorded"; readonly recorded: Recorded; readonly refusedFiles: readonly KeptPhoto[] };

/** The form with its files, as it stands. */
export interface Draft {
  readonly values: FormValues;
  readonly photos: readonly KeptPhoto[];
  readonly signature: Blob | null;
}

const typing = (problem: string | null): FormState => ({ step: "typing", problem });

function stateAfter(sent: Sent): FormState {
  if (sent.how === "recorded") return { step: "recorded", recorded: sent.recorded, refusedFiles: sent.refusedFiles };
  return sent.how === "refused" ? typing(sent.why) : { step: "waiting", why: sent.why };
}

/** What is kept becomes the form again; what waits to be sent is not typed on. */
function stateOf(kept: KeptInspection | undefined): FormState {
  return kept?.state === "waiting" ? { step: "waiting", why: kept.problem } : typing(kept?.problem ?? null);
}

function draftOf(kept: KeptInspection | undefined, fresh: Omit<FormValues, "formId">): Draft {
  const values = kept ? (kept.values as FormValues) : { ...fresh, formId: newFormId() };
  return { values, photos: kept?.photos ?? [], signature: kept?.signature ?? null };
}

/** The form, kept on the phone at every change, and what became of it. `draft` is null until the phone's copy was read. */
export function useInspectionForm(subject: KeptSubject, fresh: Omit<FormValues, "formId">) {
  const key = keyOf(subject);
  const [draft, setDraft] = useState<Draft | null>(null);
  const [state, setState] = useState<FormState>(typing(null));
  const [isRestored, setRestored] = useState(false);
  const [isKept, setKept] = useState(true);
  const latest = useRef<Draft | null>(null);
  const start = useRef(fresh);
  /** Signed and on its way: a change that comes late, such as a drawing, must not make it a form again. */
  const isSigned = useRef(false);

  const show = (next: Draft) => {
    latest.current = next;
    setDraft(next);
  };
  useEffect(() => {
    const begin = (kept: KeptInspection | undefined) => {
      latest.current = draftOf(kept, start.current);
      setDraft(latest.current);
      setRestored(kept !== undefined);
      setState(stateOf(kept));
      isSigned.current = kept?.state === "waiting";
    };
    readKept(key).then(begin, () => begin(undefined));
    void keepPages([location.pathname + location.search]);
  }, [key]);
  useEffect(() => {
    const told = (event: Event) => {
      const sent = (event as CustomEvent<Sent>).detail;
      if (sent.key !== key) return;
      setState(stateAfter(sent));
      isSigned.current = sent.how !== "refused";
    };
    outbox?.addEventListener("sent", told);
    return () => outbox?.removeEventListener("sent", told);
  }, [key]);

  const store = async (now: Draft, put: Pick<KeptInspection, "state" | "body">): Promise<boolean> => {
    const done = await keep({ ...subject, key, ...now, ...put, recordedId: null, problem: null }).then(
      () => true,
      () => false,
    );
    setKept(done);
    return done;
  };
  return {
    draft,
    state,
    isRestored,
    isKept,
    change: (part: Partial<Draft>) => {
      if (!latest.current || isSigned.current) return;
      show({ ...latest.current, ...part });
      void store(latest.current, { state: "typing", body: null });
    },
    /** Puts it down to be sent: from now on it goes by itself. */
    sign: async (body: object) => {
      if (!latest.current || isSigned.current) return;
      isSigned.current = true;
      if (!(await store(latest.current, { state: "waiting", body }))) {
        isSigned.current = false;
        return setState(typing(noRoom));
      }
      setState({ step: "waiting", why: null });
      outbox?.dispatchEvent(new Event("kept"));
    },
    say: (problem: string) => setState(typing(problem)),
  };
}

const noRoom = "This phone has no room to keep it: free some, or write it down before you leave the page.";
