import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { AreaField, NamedOptions, SelectField, TextField } from "@/app/_ui/field";
import { outcomes } from "@/lib/casework/outcome";
import { type Step, steps } from "@/lib/casework/step";
import type { FindingDetail } from "@/lib/registry/finding-detail";
import { stepAction } from "../../actions";
import styles from "./finding.module.css";

const textLabels: Readonly<Record<Step, string>> = {
  take_out_of_use: "What was done, and who saw it",
  put_back_in_use: "Why it may be used again",
  call_electrician: "Who was called, and what they said",
  tell_occupant: "Who was told, how, and what they said",
  give_entry_notice: "To whom, how, and for when",
  no_access: "When you came, and why you could not get in",
  cannot_locate: "Where you looked, and whom you asked",
  send_for_remedy: "What was sent where, and its number",
  receive_remedy: "What came, and what was done with it",
  retest: "What was tested, with which instrument, and the values",
  register_remedy: "Where the remedy was claimed, and its number",
  record_proof: "What proves it, and where it is kept",
  note: "Note",
  give_owner: "A word to the owner (may be empty)",
  set_due: "Why the date changes",
  close: "Reason",
  reopen: "Why it is opened again",
};

/** The form of one step: only what that step asks for. */
export function StepForm({ detail, step, now }: { detail: FindingDetail; step: Step; now: Date }) {
  const { finding } = detail;
  const asksReason = steps[step].asks === "reason";
  return (
    <section className={styles.form} aria-label={steps[step].words}>
      <h3>{steps[step].words}</h3>
      <ActionForm action={stepAction} key={step}>
        <input type="hidden" name="findingId" value={finding.id} />
        <input type="hidden" name="version" value={finding.version} />
        <input type="hidden" name="step" value={step} />
        {step === "give_owner" && <OwnerField detail={detail} />}
        {step === "set_due" && <DayField label="New due date" name="dueAt" after={now} />}
        {step === "close" && <CloseFields detail={detail} now={now} />}
        <AreaField label={textLabels[step]} name="text" rows={3} maxLength={4000} required={asksReason} />
        <Acts>
          <Button look="main">{steps[step].words}</Button>
          <ButtonLink href={`/findings/${finding.id}`}>Leave it</ButtonLink>
        </Acts>
      </ActionForm>
    </section>
  );
}

function OwnerField({ detail }: { detail: FindingDetail }) {
  return (
    <SelectField label="Owner" name="ownerId" defaultValue={detail.finding.ownerId ?? ""}>
      <option value="">nobody</option>
      <NamedOptions list={detail.people} />
    </SelectField>
  );
}

function DayField({ label, name, after, hint }: { label: string; name: string; after: Date; hint?: string }) {
  const tomorrow = new Date(after.getTime() + 86_400_000).toISOString().slice(0, 10);
  return <TextField label={label} name={name} type="date" min={tomorrow} hint={hint} />;
}

function CloseFields({ detail, now }: { detail: FindingDetail; now: Date }) {
  const isDanger = detail.facts.signalWord === "DANGER";
  return (
    <>
      {detail.needsSecondPerson && (
        <p>
          <b>A danger needs a second person.</b> One records the proof with “Add the proof”, another checks it and closes.
        </p>
      )}
      <SelectField label="How it ended" name="outcome" required defaultValue="">
        <option value="" disabled>
          choose
        </option>
        {detail.outcomes.map((name) => (
          <option key={name} value={name}>
            {outcomes[name].words}
          </option>
        ))}
      </SelectField>
      <TextField
        label={isDanger ? "Evidence (a danger is not closed without)" : "Evidence"}
        name="evidence"
        maxLength={2000}
        hint="A receipt, a reading, a photograph of the cut plug: what it is and where it is kept."
      />
      {detail.outcomes.includes("accepted") && (
        <DayField label="Look again on" name="reviewAt" after={now} hint="Only for “accepted with reason”." />
      )}
    </>
  );
}
