import { Acts, Button } from "@/app/_ui/button";
import { DataTable, TableHead } from "@/app/_ui/data-table";
import { PlainSection } from "@/app/_ui/side-section";
import type { ColumnView, LookView, RunView } from "@/lib/jobs/run-view";
import { ActionForm } from "../action-form";
import { settleColumns } from "../actions";
import styles from "../bring-in.module.css";
import { RunCells } from "./run-cells";

/** Their columns, our words, the first rows under them, and the start. */
export function RunColumns({ view, look }: { view: RunView; look: LookView | null }) {
  const { run, unreadableCells, failure, hasFile } = view;
  return (
    <ActionForm action={settleColumns}>
      <input type="hidden" name="runId" value={run.id} />
      <input type="hidden" name="columns" value={look?.columns.length ?? 0} />
      {failure && <p role="alert">{failure}</p>}
      {look ? (
        <div className={styles.two}>
          <Maps columns={look.columns} targets={look.targets} />
          <RunCells preview={look.preview} />
        </div>
      ) : (
        <p>{unmapped(run.kind, hasFile)}</p>
      )}
      {look && look.preview.troubled > 0 && <Choice kind={run.kind} unreadableCells={unreadableCells} />}
      <div className={styles.go}>
        <Acts>
          <Button look="main" big name="act" value="start" disabled={!hasFile}>
            Bring in
          </Button>
          {look && (
            <Button name="act" value="look">
              Look again with these columns
            </Button>
          )}
        </Acts>
      </div>
    </ActionForm>
  );
}

function unmapped(kind: string, hasFile: boolean): string {
  if (!hasFile) return "The uploaded file is no longer kept: bring it in again.";
  if (kind === "notices") return "A recall list is read as it is published; new, amended and unchanged notices are told apart.";
  if (kind === "log")
    return "An outlet log has its own columns: at, outlet, receptacle, tag, watts, amps, volts, power_factor, event, cause.";
  return "The file's first line could not be read as a header, so its columns cannot be told. Say above what kind of file it is, or save it as CSV.";
}

function Maps({ columns, targets }: { columns: readonly ColumnView[]; targets: readonly string[] }) {
  return (
    <PlainSection head="Their columns, our words" aside={<span className="small soft">Kept for the next file with these headers</span>}>
      <DataTable caption="Which of our columns each of theirs is">
        <TableHead columns={["In the file", "Becomes", "First value", "How we know"]} />
        <tbody className={styles.maps}>
          {columns.map(({ header, target, firstValue, ground }, at) => (
            <tr key={header}>
              <td>
                <b>{header}</b>
              </td>
              <td>
                <select key={target} name={`to.${at}`} defaultValue={target ?? ""} aria-label={`${header} becomes`}>
                  <option value="">leave out</option>
                  {targets.map((name) => (
                    <option key={name} value={name}>
                      {name === "keep_in_notes" ? "keep in notes" : name}
                    </option>
                  ))}
                </select>
              </td>
              <td className={styles.first} title={firstValue}>
                {firstValue}
              </td>
              <td className={styles.ground}>{ground.endsWith("?") || ground.includes("?") ? <b>{ground}</b> : ground}</td>
            </tr>
          ))}
        </tbody>
      </DataTable>
    </PlainSection>
  );
}

function Choice({ kind, unreadableCells }: { kind: string; unreadableCells: "set_aside" | "leave_out" }) {
  return (
    <fieldset key={unreadableCells} className={styles.choice}>
      <legend>When a cell cannot be read</legend>
      <label>
        <input type="radio" name="unreadableCells" value="set_aside" defaultChecked={unreadableCells === "set_aside"} />
        <span>set the row aside, with the reason, to be mended in the file</span>
      </label>
      <label>
        <input type="radio" name="unreadableCells" value="leave_out" defaultChecked={unreadableCells === "leave_out"} />
        <span>
          {kind === "labels"
            ? "bring the row in without that cell, and keep the cell’s words in the notes (a mistyped tag is set aside all the same)"
            : "bring the row in without that cell"}
        </span>
      </label>
    </fieldset>
  );
}
