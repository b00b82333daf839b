import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { PlainSection } from "@/app/_ui/side-section";
import type { ImportPreview, PreviewCell, PreviewRow } from "@/lib/registry/import-preview";
import styles from "../bring-in.module.css";

/** The first rows that need a look, each trouble in its cell. */
export function RunCells({ preview }: { preview: ImportPreview }) {
  const { rows, columns, troubled, mended } = preview;
  return (
    <PlainSection head={troubled + mended > 0 ? "Cells to look at" : "The first rows"}>
      <DataTable caption="First rows as they will be read" top>
        <TableHead columns={[figureColumn("Line"), "Then", ...columns]} />
        <tbody className={styles.grid}>
          {rows.map((row) => (
            <tr key={row.line}>
              <td className={cell.num}>{row.line}</td>
              <td className={styles.then}>{whatThen(row)}</td>
              {row.cells.map((one, at) => (
                <Cell key={columns[at]} one={one} />
              ))}
            </tr>
          ))}
        </tbody>
      </DataTable>
      <p className={styles.legend}>
        <span>
          <b className={styles.mark}>!</b>needs you, reason below it
        </span>
        <span>
          <s>struck out</s> mended by rule
        </span>
      </p>
    </PlainSection>
  );
}

function whatThen(row: PreviewRow) {
  if (row.problem !== null) return <span className={styles.why}>set aside: {row.problem}</span>;
  if (row.cells.some((one) => one.problem)) return "needs you";
  return row.cells.some((one) => one.mended) ? <span className="mute">mended</span> : <span className="mute">as it is</span>;
}

function Cell({ one }: { one: PreviewCell }) {
  const text = (
    <span className={styles.cellText} title={one.text}>
      {one.text}
    </span>
  );
  if (one.problem) {
    return (
      <td className={styles.bad}>
        <span className={styles.mark}>!</span>
        {text}
        <span className={styles.why}>{one.problem}</span>
      </td>
    );
  }
  if (one.mended) {
    return (
      <td>
        <s className={styles.was}>{one.text}</s> <b className={styles.mended}>{one.mended}</b>
      </td>
    );
  }
  return <td>{text}</td>;
}
