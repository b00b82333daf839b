import Link from "next/link";
import { Account, figures } from "@/app/_ui/account";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { Progress } from "@/app/_ui/progress";
import { PlainSection } from "@/app/_ui/side-section";
import type { RunView } from "@/lib/jobs/run-view";
import { ActionForm } from "../action-form";
import { goOn, stop } from "../actions";
import styles from "../bring-in.module.css";
import { counted, paceOf, timeWords } from "../run-words";

const next: Readonly<Record<string, { href: string; label: string }>> = {
  labels: { href: "/appliances", label: "To the appliances" },
  places: { href: "/building", label: "To the building" },
  notices: { href: "/recalls", label: "To the recalls" },
  log: { href: "/readings", label: "To the readings" },
};

/** The account of a run so far or at its end, and what can be done about it. */
export function RunAccount({ view }: { view: RunView }) {
  const { run, work } = view;
  const isWorking = work !== "resting";
  return (
    <PlainSection head={run.state === "done" ? "The account" : "The account so far"} aside={isWorking ? paceWords(view) : null}>
      {isWorking && <Progress label="Rows brought in" done={run.bytesDone} total={run.byteLength} />}
      <Account account={run} />
      {isWorking ? <Stop view={view} /> : <Ended view={view} />}
    </PlainSection>
  );
}

function paceWords({ run, workingSince }: RunView) {
  const pace = paceOf(run, workingSince);
  if (!pace) return "starting";
  return (
    <>
      {counted(run.rowsRead, "row")}, {figures(pace.rowsPerSecond)} a second
      {pace.secondsLeft !== null && (
        <>
          , <b>{timeWords(pace.secondsLeft)} left</b>
        </>
      )}
    </>
  );
}

function Stop({ view: { run, stopAsked } }: { view: RunView }) {
  return (
    <ActionForm action={stop} className={styles.go}>
      <input type="hidden" name="runId" value={run.id} />
      <Acts>
        <Button disabled={stopAsked}>{stopAsked ? "Stopping after this chunk" : "Stop here"}</Button>
        <span className="small soft">
          What is in stays in and the rest stays out; you can go on later. You may leave this page. The same file twice changes nothing.
        </span>
      </Acts>
    </ActionForm>
  );
}

function Ended({ view: { run, hasFile, failure } }: { view: RunView }) {
  const after = next[run.kind];
  const canGoOn = run.state !== "done" && hasFile;
  return (
    <div className={styles.go}>
      {failure && failure !== run.message && <p role="alert">{failure}</p>}
      {run.setAside > 0 && run.state === "done" && (
        <p>
          {counted(run.setAside, "row")} set aside: <Link href="#set-aside">see the reasons</Link>, mend them and bring that file in.
        </p>
      )}
      <Acts>
        {canGoOn && (
          <ActionForm action={goOn}>
            <input type="hidden" name="runId" value={run.id} />
            <Button look="main">{run.rowsRead > 0 ? "Go on from there" : "Try again"}</Button>
          </ActionForm>
        )}
        {run.state === "done" && after && (
          <ButtonLink href={after.href} look="main">
            {after.label}
          </ButtonLink>
        )}
        <ButtonLink href="/bring-in">Bring in another file</ButtonLink>
      </Acts>
    </div>
  );
}
