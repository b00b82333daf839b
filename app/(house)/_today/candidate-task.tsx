import { Plate } from "@/app/_ui/plate";
import { TagChip } from "@/app/_ui/tag-chip";
import { ratingCells } from "@/lib/electrical/rating-words";
import { ratingOf } from "@/lib/registry/appliance-columns";
import type { CandidateTask } from "@/lib/registry/today";
import { TaskRow } from "./task-row";

/** A candidate as a row of the day's work: one question to settle, or a decision to make. */
export function CandidateTaskRow({ task, now }: { task: CandidateTask; now: Date }) {
  const { identical } = task;
  const { id, appliance, ask, grade, noticeNumber, noticeTitle } = task.candidate;
  const rating = ratingOf(appliance);
  const plate = {
    maker: appliance.brand,
    model: appliance.model,
    cells: ratingCells(rating),
    protectionClass: rating.protectionClass ?? appliance.protectionClass,
  };
  const isQuestion = grade === "check_label" && ask !== null;
  return (
    <TaskRow
      word={task.signalWord}
      since={task.since}
      now={now}
      what={
        <>
          <Plate size="row" plate={plate} href={`/recalls/review/${id}`} />
          <p>
            {isQuestion ? <b>{ask.question}</b> : <b>{noticeTitle}</b>}{" "}
            <span className="mute">
              {isQuestion ? "It would settle notice" : `Graded ${grade.replaceAll("_", " ")} by its plate. Notice`}{" "}
              <span className="nw">{noticeNumber}</span>.{identical > 0 && ` And ${identical} more of the same model.`}
            </span>
          </p>
        </>
      }
      where={
        <>
          <b>{appliance.category ?? "Appliance"}</b>
          <TagChip tag={appliance.tag} href={`/appliances/${appliance.id}`} />
        </>
      }
      due={<>Treat it as covered until then</>}
      act={{ href: `/recalls/review/${id}`, label: isQuestion ? "Answer the question" : "Compare and decide", isMain: false }}
    />
  );
}
