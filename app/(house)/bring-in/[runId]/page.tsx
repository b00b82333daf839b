import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { PageHead } from "@/app/_ui/page-head";
import { RecordTimeline } from "@/app/(house)/_record/record-timeline";
import { getRunView, type LookView, lookAtRun, type RunView } from "@/lib/jobs/run-view";
import { KeepFresh } from "../keep-fresh";
import { counted, instantWords, kindWords, readAs, sizeWords, stateWords } from "../run-words";
import { RunAccount } from "./run-account";
import { RunColumns } from "./run-columns";
import { RunKind } from "./run-kind";
import { SetAside } from "./set-aside-list";
import { type Step, Steps } from "./steps";

export const metadata: Metadata = { title: "Bring in a file" };

export default async function RunPage({ params }: { params: Promise<{ runId: string }> }) {
  const { db, actor, now } = await requirePage("bring in labels");
  const { runId } = await params;
  const view = await forPage(getRunView(db, actor, { runId, now }));
  const isWaiting = view.run.state === "waiting" && view.work === "resting";
  const look = isWaiting ? await lookAtRun(view.run) : null;
  return (
    <>
      {view.work !== "resting" && <KeepFresh everyMs={1500} />}
      <PageHead
        crumbs={[{ label: "Bring in", href: "/bring-in" }, { label: kindWords[view.run.kind].toLowerCase() }]}
        title={
          <>
            {kindWords[view.run.kind]} from “{view.run.fileName}”
          </>
        }
        lead={leadOf(view, look)}
        cells={cellsOf(view, look)}
      />
      <Steps at={stepOf(view)} kind={view.run.kind} />
      {isWaiting ? (
        <>
          <RunKind actor={actor} view={view} />
          <RunColumns view={view} look={look} />
        </>
      ) : (
        <RunAccount view={view} />
      )}
      {view.setAside.length > 0 && <SetAside view={view} />}
      <RecordTimeline db={db} actor={actor} ids={[view.run.id]} />
    </>
  );
}

function stepOf({ run, work }: RunView): Step {
  if (run.state === "waiting" && work === "resting") return "columns";
  return run.state === "done" ? "done" : "bring in";
}

function leadOf({ run, work, failure }: RunView, look: LookView | null) {
  if (look) {
    const { looked, isPart, asTheyAre, mended, troubled } = look.preview;
    return (
      <>
        {isPart ? `The first ${figures(looked)} rows: ` : `${counted(looked, "row")}. `}
        <b>{figures(asTheyAre + mended)} can go in</b>
        {mended > 0 && `, ${figures(mended)} of them mended`}; {figures(troubled)} {troubled === 1 ? "needs" : "need"} a look. Nothing is
        lost either way.
      </>
    );
  }
  if (work === "queued") return "Waiting for its turn; other work is being done first.";
  if (run.state === "running" || work === "working") return "Being brought in. You may leave this page; the run goes on.";
  if (run.state === "waiting") return failure ?? "Look at it, then bring it in.";
  return run.message ?? (run.state === "done" ? "All rows are accounted for." : stateWords[run.state]);
}

function cellsOf({ run, byName, seenBefore }: RunView, look: LookView | null) {
  return [
    { label: "Run", value: stateWords[run.state] },
    { label: "Size", value: sizeWords(run.byteLength) },
    ...(look ? [{ label: "Read as", value: readAs(look.preview.delimiter) }] : []),
    { label: "Seen before", value: seenBefore ? instantWords(seenBefore.startedAt) : "no" },
    { label: "By", value: byName ?? "command line" },
  ];
}
