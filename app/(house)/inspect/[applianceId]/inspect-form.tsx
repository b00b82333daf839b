"use client";

import type { FormEvent } from "react";
import { Acts, Button } from "@/app/_ui/button";
import { FormWord } from "@/app/_ui/field";
import { SideSection } from "@/app/_ui/side-section";
import { inspectionStandards } from "@/lib/electrical/inspection-limit-tables";
import type { KeptSubject } from "../_parts/kept-inspections";
import { CheckFields } from "./check-fields";
import { RecordedWords, WaitingWords } from "./done";
import { bodyOf, type FormValues, freshValues } from "./form-values";
import { type JudgedBy, judgeForm, problemIn, usedInstruments } from "./judging";
import { MeasureFields } from "./measure-fields";
import { NoteFields, ResultWords, SignatureFields } from "./sign-fields";
import { useInspectionForm } from "./use-inspection-form";

export interface InspectFormProps {
  readonly subject: KeptSubject;
  /** Who is signed in. */
  readonly name: string;
  readonly known: Pick<FormValues, "environment" | "protectionClass" | "cordMetres">;
  readonly by: JudgedBy;
  /** It can be taken out of use. */
  readonly isInUse: boolean;
  /** Where to go on when it is done, such as the round. */
  readonly back: string | null;
}

/** The inspection form. All of it is kept on the phone while it is typed; signing sends it, at once or when there is a connection. */
export function InspectForm({ subject, name, known, by, isInUse, back }: InspectFormProps) {
  const { draft, state, isRestored, isKept, change, sign, say } = useInspectionForm(subject, freshValues(known));
  const { applianceId, correctsId } = subject;
  if (state.step === "recorded") return <RecordedWords {...state} applianceId={applianceId} back={back} />;
  if (state.step === "waiting") return <WaitingWords why={state.why} applianceId={applianceId} back={back} />;
  if (draft === null) return <p className="soft">Opening the form…</p>;
  const { values } = draft;
  const set = (part: Partial<FormValues>) => change({ values: { ...values, ...part } });
  const { judgement, due } = judgeForm(values, by, new Date());
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const problem = problemIn(values, correctsId);
    const instrumentIds = usedInstruments(values, by).map(({ id }) => id);
    if (problem) say(problem);
    else void sign(bodyOf(values, { applianceId, correctsId, instrumentIds, at: new Date().toISOString() }));
  };
  return (
    <form onSubmit={submit}>
      <KeptWords isRestored={isRestored} isKept={isKept} />
      <SideSection head="Look" note="Before anything is switched on.">
        <CheckFields values={values} change={set} />
      </SideSection>
      <SideSection
        head="Measure"
        note={`Judged by ${inspectionStandards[by.standard].words}. The maker's instructions and local code come first.`}
      >
        <MeasureFields values={values} change={set} by={by} />
      </SideSection>
      <SideSection head="Note">
        <NoteFields draft={draft} change={change} correctsId={correctsId} />
      </SideSection>
      <SideSection head="Sign">
        <ResultWords judgement={judgement} due={due} />
        <SignatureFields draft={draft} change={change} name={name} mayTakeOut={judgement.result === "fail" && isInUse} />
        <FormWord problem={state.problem ?? undefined} />
        <Acts>
          <Button look="main" big>
            Sign and send
          </Button>
        </Acts>
      </SideSection>
    </form>
  );
}

function KeptWords({ isRestored, isKept }: { isRestored: boolean; isKept: boolean }) {
  if (!isKept)
    return (
      <p className="over" role="alert">
        This phone keeps nothing for this page: do not leave it before it is sent.
      </p>
    );
  if (!isRestored) return null;
  return (
    <p className="small soft" role="status">
      What you typed before was kept on this phone and is here again.
    </p>
  );
}
