import { cell, DataTable, TableHead } from "@/app/_ui/data-table";
import type { Ask, Reason } from "@/lib/matching/candidate";
import { agreementOf, fieldNames, inFieldOrder, weightOf } from "./agreement";
import styles from "./field-table.module.css";

const codeFields = new Set(["model", "serial", "dateCode", "upc", "exclusion"]);

/** The comparison field by field: both sides, the agreement, the weight in boxes and words, and why. */
export function FieldTable({ reasons, ask, score }: { reasons: readonly Reason[]; ask: Ask | null; score: number }) {
  return (
    <>
      <DataTable caption="Field by field" cards>
        <TableHead columns={["Field", "On the appliance", "In the notice", "Agreement", "Weight", "Why"]} />
        <tbody>
          {inFieldOrder(reasons).map((reason) => (
            <Row key={`${reason.field} ${reason.level}`} reason={reason} isAsked={ask?.field === reason.field} />
          ))}
        </tbody>
      </DataTable>
      <p className={styles.sum}>
        The weights add up to {score.toFixed(1)} bits. Each more bit makes it twice as likely that the notice means this appliance.
      </p>
    </>
  );
}

function Row({ reason, isAsked }: { reason: Reason; isAsked: boolean }) {
  const { sign, words } = agreementOf(reason);
  const code = codeFields.has(reason.field) ? styles.code : undefined;
  return (
    <tr className={isAsked ? `${cell.chosen} ${styles.row} ${styles.asked}` : styles.row}>
      <th scope="row" className={cell.wide}>
        {fieldNames[reason.field]}
      </th>
      <td className={code} data-label="appliance">
        {reason.onAppliance ?? <span className={styles.blank}>not read</span>}
      </td>
      <td className={code} data-label="notice">
        <span className={styles.stated}>{reason.inNotice ?? <span className={styles.blank}>says nothing</span>}</span>
      </td>
      <td className={sign === "?" ? `${styles.agreement} mute` : styles.agreement}>
        <span className={styles.sign}>{sign}</span> <b>{words}</b>
      </td>
      <td className="nw">
        <Boxes reason={reason} isAsked={isAsked} />
      </td>
      <td className={cell.wide}>{isAsked ? <Asked reason={reason} /> : reason.sentence}</td>
    </tr>
  );
}

/** The field that would settle it: a blank says nothing against it, and the notice's side stands in its own column. */
function Asked({ reason }: { reason: Reason }) {
  const blank = reason.onAppliance === null;
  return <b>{blank ? "Not known is not the same as different." : reason.sentence} This is the one to read.</b>;
}

function Boxes({ reason, isAsked }: { reason: Reason; isAsked: boolean }) {
  const { boxes, isAgainst, words } = weightOf(reason);
  const full = isAgainst ? styles.against : styles.full;
  return (
    <>
      <span className={styles.boxes} aria-hidden="true">
        {[1, 2, 3, 4].map((box) => (
          <u key={box} className={box <= boxes ? full : undefined} />
        ))}
      </span>{" "}
      {isAsked && boxes === 0 ? "would settle it" : words}{" "}
      <span className="mute">
        ({reason.weight > 0 ? "+" : ""}
        {reason.weight.toFixed(1)})
      </span>
    </>
  );
}
