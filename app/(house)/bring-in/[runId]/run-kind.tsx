import { Button } from "@/app/_ui/button";
import { SelectField } from "@/app/_ui/field";
import type { Actor } from "@/lib/access/actor";
import { importKindsOf } from "@/lib/jobs/bring-in";
import type { RunView } from "@/lib/jobs/run-view";
import { ActionForm } from "../action-form";
import { changeKind } from "../actions";
import styles from "../bring-in.module.css";
import { kindWords } from "../run-words";

/** What the file was taken for, and the way to say that it is something else. */
export function RunKind({ actor, view: { run } }: { actor: Actor; view: RunView }) {
  return (
    <ActionForm action={changeKind} className={styles.kind}>
      <input type="hidden" name="runId" value={run.id} />
      <SelectField key={run.kind} label="Taken for" name="kind" defaultValue={run.kind}>
        {importKindsOf(actor).map((kind) => (
          <option key={kind} value={kind}>
            {kindWords[kind]}
          </option>
        ))}
      </SelectField>
      <Button>It is this kind</Button>
    </ActionForm>
  );
}
