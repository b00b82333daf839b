import { LimitBar } from "@/app/_ui/limit-bar";
import { Plate } from "@/app/_ui/plate";
import { TagChip } from "@/app/_ui/tag-chip";
import { dueWords } from "@/lib/casework/due-words";
import { steps } from "@/lib/casework/step";
import type { FindingTask } from "@/lib/registry/today";
import { barUnit, plateOfFinding } from "../findings/_parts/plate-of-finding";
import { TaskRow } from "./task-row";
import styles from "./today.module.css";

/** A finding as a row of the day's work. Only dangers have the filled button, so that one thing stands out. */
export function FindingTaskRow({ task, now }: { task: FindingTask; now: Date }) {
  const { shown, step } = task;
  const { finding, appliance, evidence, place, owner, timeZone, title } = shown;
  const unit = evidence.seen ? barUnit(evidence.seen.unit) : null;
  const due = dueWords(finding.dueAt, now, timeZone);
  const href = `/findings/${finding.id}`;
  return (
    <TaskRow
      word={task.signalWord}
      since={task.since}
      now={now}
      what={
        <>
          {appliance ? <Plate size="row" plate={plateOfFinding(appliance)} href={href} /> : <h3>{title}</h3>}
          {evidence.seen && unit && (
            <div className={styles.bar}>
              <LimitBar seen={evidence.seen.value} allowed={evidence.seen.limit} unit={unit} limitWord={appliance ? "allowed" : "limit"} />
            </div>
          )}
          <p>
            {finding.sentence}
            {finding.timesSeen > 1 && <span className="mute"> Seen {finding.timesSeen} times.</span>}
          </p>
        </>
      }
      where={
        <>
          <b>{place.unit ? `Unit ${place.unit}` : place.site}</b>
          <span>{[place.unit ? place.site : null, place.spot].filter(Boolean).join(", ")}</span>
          {appliance && <TagChip tag={appliance.tag} href={`/appliances/${appliance.id}`} />}
        </>
      }
      due={
        <>
          <b className={due.late ? styles.late : undefined}>{due.words}</b>
          {owner ?? "no owner"}
        </>
      }
      act={{
        href: step === null ? href : `${href}?step=${step}#step`,
        label: step === null ? "Read it" : steps[step].words,
        isMain: task.signalWord === "DANGER" && step !== null,
      }}
    />
  );
}
