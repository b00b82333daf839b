import { Acts, ButtonLink } from "@/app/_ui/button";
import { isOutcome, outcomes } from "@/lib/casework/outcome";
import { type Step, steps } from "@/lib/casework/step";
import { firstStep, groupOf } from "@/lib/casework/today-group";
import type { FindingDetail } from "@/lib/registry/finding-detail";
import { instantWords } from "./evidence";
import styles from "./finding.module.css";
import { StepForm } from "./step-form";

/** The step to offer as the one violet button. */
function mainStep(detail: FindingDetail): Step | null {
  const { facts, steps: allowed, finding } = detail;
  if (facts.state === "closed") return null;
  const group = groupOf(facts);
  const first = group === "read_label" ? null : firstStep[group];
  const best = finding.ownerId === null && first === "close" && allowed.includes("give_owner") ? "give_owner" : first;
  return best !== null && allowed.includes(best) ? best : (allowed[0] ?? null);
}

/** The steps that may be taken now as buttons, and the form of the chosen one. */
export function NextSteps({ detail, chosen, now }: { detail: FindingDetail; chosen: Step | null; now: Date }) {
  const main = chosen === null ? mainStep(detail) : null;
  return (
    <div className={styles.next} id="step">
      {detail.facts.state === "closed" && <Closed detail={detail} />}
      {detail.steps.length === 0 ? (
        <p className={styles.note}>Your role may read this finding; a manager or an inspector takes the next step.</p>
      ) : (
        <StepButtons detail={detail} chosen={chosen} main={main} />
      )}
      {chosen && <StepForm detail={detail} step={chosen} now={now} />}
    </div>
  );
}

/** What moves the case stands open; what is written down or arranged is folded away until it is wanted. */
function StepButtons({ detail, chosen, main }: { detail: FindingDetail; chosen: Step | null; main: Step | null }) {
  const button = (step: Step) => (
    <ButtonLink
      key={step}
      look={step === main ? "main" : "plain"}
      href={`/findings/${detail.finding.id}?step=${step}#step`}
      aria-current={step === chosen ? "step" : undefined}
    >
      {steps[step].words}
    </ButtonLink>
  );
  const acts = detail.steps.filter((step) => steps[step].sort === "act" || step === main);
  const others = detail.steps.filter((step) => !acts.includes(step));
  return (
    <>
      {acts.length > 0 && <Acts>{acts.map(button)}</Acts>}
      {others.length > 0 && (
        <details className={styles.more} open={chosen !== null && others.includes(chosen)}>
          <summary>Write something down, or arrange the work</summary>
          <Acts>{others.map(button)}</Acts>
        </details>
      )}
    </>
  );
}

function Closed({ detail }: { detail: FindingDetail }) {
  const { finding, timeZone } = detail;
  const outcome = finding.outcome !== null && isOutcome(finding.outcome) ? outcomes[finding.outcome].words : "no outcome written";
  return (
    <div className={styles.closed}>
      <p>
        <b>Closed: {outcome}.</b> {finding.closedAt && instantWords(finding.closedAt, timeZone)}
      </p>
      {finding.outcomeReason && <p>{finding.outcomeReason}</p>}
      {finding.outcomeEvidence && <p>Evidence: {finding.outcomeEvidence}</p>}
      {finding.reviewAt && <p>To be looked at again by {finding.reviewAt.toISOString().slice(0, 10)}.</p>}
    </div>
  );
}
