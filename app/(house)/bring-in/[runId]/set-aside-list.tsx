import { buttonClass } from "@/app/_ui/button";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { SideSection } from "@/app/_ui/side-section";
import type { RunView } from "@/lib/jobs/run-view";
import styles from "../bring-in.module.css";
import { counted } from "../run-words";

/** The rows that stayed outside, with their reasons, and all of them as a file to mend. */
export function SetAside({ view: { run, setAside } }: { view: RunView }) {
  return (
    <SideSection
      id="set-aside"
      head="Set aside"
      count={counted(run.setAside, "row")}
      note={
        <a className={buttonClass("plain")} href={`/bring-in/${run.id}/set-aside`} download>
          Take them home as CSV
        </a>
      }
    >
      <DataTable caption="Rows set aside, with the reason" cards top>
        <TableHead columns={[figureColumn("Line"), "Reason", "Row"]} />
        <tbody>
          {setAside.map(({ line, reason, content }) => (
            <tr key={line}>
              <td className={cell.num} data-label="Line">
                {line}
              </td>
              <td className={cell.wide}>{reason}</td>
              <td className={cell.wide}>
                <span className={styles.content} title={content}>
                  {content}
                </span>
              </td>
            </tr>
          ))}
        </tbody>
      </DataTable>
      {run.setAside > setAside.length && <p className="small soft">The first {setAside.length}; the file has all of them.</p>}
    </SideSection>
  );
}
