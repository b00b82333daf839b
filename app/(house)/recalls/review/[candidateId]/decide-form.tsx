"use client";

import Link from "next/link";
import { type FormEvent, type ReactNode, useState } from "react";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { AreaField, FormWord } from "@/app/_ui/field";
import { useKeptForm } from "@/app/_ui/use-kept-form";
import { type Verdict, verdictWords } from "@/lib/registry/decision-standing";
import { decideCandidate } from "./actions";
import styles from "./review.module.css";

const choices: readonly { readonly verdict: Verdict; readonly name: string; readonly follows: string }[] = [
  { verdict: "affected", name: "Affected", follows: "take out of use, tell the occupant, ask for the remedy" },
  { verdict: "not_affected", name: "Not affected", follows: "needs a fact that rules it out: an exclusion, a serial or date outside" },
  { verdict: "unsure", name: "Unsure", follows: "out of use until the question is answered; a finding keeps it in view" },
];

const tagsShown = 8;

/** The tags of the ticked appliances of which the comparison says the contrary of the verdict. */
function contradicting(form: HTMLFormElement, verdict: FormDataEntryValue | null): string[] {
  const contrary = verdict === "affected" ? "not_covered" : verdict === "not_affected" ? "covered" : null;
  const ticked = form.querySelectorAll<HTMLInputElement>('input[name="applianceIds"]:checked');
  return [...ticked].flatMap(({ dataset }) => (dataset["grade"] === contrary ? [dataset["tag"] ?? ""] : []));
}

export interface DecideFormProps {
  readonly candidateId: string;
  readonly noticeHash: string;
  readonly verdict: Verdict | null;
  readonly reason: string;
  readonly chosen: number;
  readonly nextHref: string | null;
  readonly signer: string;
  /** The table of identical appliances with their ticks. */
  readonly children: ReactNode;
}

/** Verdict, reason, and which of the identical ones it is for. */
export function DecideForm(props: DecideFormProps) {
  const { candidateId, noticeHash, verdict, reason, nextHref, signer, children } = props;
  const { result, isPending, form } = useKeptForm(decideCandidate);
  const [chosen, setChosen] = useState(props.chosen);
  const [against, setAgainst] = useState<readonly string[]>([]);
  const recount = (event: FormEvent<HTMLFormElement>) => {
    const given = new FormData(event.currentTarget);
    setChosen(given.getAll("applianceIds").length);
    setAgainst(contradicting(event.currentTarget, given.get("verdict")));
  };
  const fields = result && !result.ok ? result.fields : {};
  return (
    <form {...form} onChange={recount} onReset={() => setChosen(props.chosen)} className={styles.decide} id="decide">
      <input type="hidden" name="candidateId" value={candidateId} />
      <input type="hidden" name="noticeHash" value={noticeHash} />
      <div className={styles.verdict}>
        <h2>Decide</h2>
        <fieldset className={styles.options}>
          <legend className="vh">Decision</legend>
          {choices.map((choice) => (
            <label key={choice.verdict}>
              <input type="radio" name="verdict" value={choice.verdict} defaultChecked={choice.verdict === verdict} required />
              <span>
                <b>{choice.name}</b> {choice.follows}
              </span>
            </label>
          ))}
        </fieldset>
        <AreaField
          label="What you saw, for the record"
          name="reason"
          rows={3}
          required
          maxLength={2000}
          defaultValue={reason}
          error={fields["reason"]}
        />
        {against.length > 0 && (
          <p role="status">
            <b>The comparison says otherwise of {against.length === 1 ? "one" : `${against.length}`} of the ticked:</b>{" "}
            {against.slice(0, tagsShown).join(", ")}
            {against.length > tagsShown && ` and ${against.length - tagsShown} more`}. Untick what you have not looked at, or say in the
            reason why it holds for them too.
          </p>
        )}
        <Acts>
          <Button look="main" disabled={isPending || chosen === 0}>
            {chosen === 0 ? "Choose an appliance" : chosen === 1 ? "Decide for this one" : `Decide for these ${chosen}`}
          </Button>
          {nextHref && (
            <ButtonLink look="quiet" href={nextHref}>
              {result?.ok ? "To the next candidate" : "Skip to the next candidate"}
            </ButtonLink>
          )}
        </Acts>
        <FormWord
          problem={result && !result.ok ? result.problem : undefined}
          done={result?.ok ? `Decided for ${result.appliances}: ${verdictWords[result.verdict]}.` : undefined}
        />
        {result?.ok && result.findingIds.length > 0 && (
          <p>
            <Link href={result.findingIds.length === 1 ? `/findings/${result.findingIds[0]}` : "/findings"}>
              {result.findingIds.length === 1 ? "The finding" : `The ${result.findingIds.length} findings`}
            </Link>{" "}
            to work on.
          </p>
        )}
        {result?.ok && result.closed > 0 && (
          <p>
            {result.closed === 1 ? "The finding of the earlier decision is" : `${result.closed} findings of earlier decisions are`} closed
            as found not affected.
          </p>
        )}
        {result?.ok && result.forSecondPerson > 0 && (
          <p>
            {result.forSecondPerson === 1
              ? "A danger that you had confirmed waits"
              : `${result.forSecondPerson} dangers that you had confirmed wait`}{" "}
            for a second person to check and close: <Link href="/findings">findings</Link>.
          </p>
        )}
        <p className="small soft">
          Signed {signer}. Stands until the notice is amended or what is known says otherwise; then it comes back here, with what changed.
        </p>
      </div>
      {children}
    </form>
  );
}
