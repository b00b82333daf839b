import Link from "next/link";
import { figures } from "@/app/_ui/account";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import type { RemedyLine } from "@/lib/registry/remedies";
import { dayWords } from "../../_parts/grade-words";
import recalls from "../../_parts/recalls.module.css";
import styles from "./remedies.module.css";

/** What is done for each notice, with its remedy and whom to ask in its own words. */
export function RemedyTable({ lines }: { lines: readonly RemedyLine[] }) {
  return (
    <DataTable caption="Notices that fit appliances we have, those with most left to do first" cards top>
      <TableHead
        columns={[
          "Notice",
          "Remedy, in its own words",
          ...["Have", "Found", "Registered", "Sent", "Received", "Settled"].map(figureColumn),
        ]}
      />
      <tbody>
        {lines.map((line) => (
          <Row key={line.notice.id} line={line} />
        ))}
      </tbody>
    </DataTable>
  );
}

function Row({ line: { notice, counts } }: { line: RemedyLine }) {
  const { have, found, registered, sent, received, settled, undecided, unsure, waiting, accepted } = counts;
  const rest = [undecided > 0 && `${figures(undecided)} undecided`, unsure > 0 && `${figures(unsure)} unsure`].filter(Boolean).join(", ");
  const left = [waiting > 0 && `${figures(waiting)} not claimed`, accepted > 0 && `${figures(accepted)} accepted`]
    .filter(Boolean)
    .join(", ");
  return (
    <tr>
      <td className={cell.wide}>
        <Link className="nw" href={`/recalls/${notice.id}`}>
          {notice.number}
        </Link>
        {notice.date && <span className="mute"> {dayWords(notice.date)}</span>}
        {notice.goneAt && <span className="mute"> gone from its list</span>}
        <span className={`${recalls.quoted} ${recalls.clamp}`}>{notice.title}</span>
      </td>
      <td className={`${cell.wide} ${styles.says}`}>
        <span className={recalls.quoted}>{notice.remedy ?? "It names no remedy."}</span>
        <span className={cell.second}>
          {notice.contact ? `Ask: ${notice.contact}` : "It names nobody to ask; ask the maker or the shop."}
        </span>
      </td>
      <td className={cell.num} data-label="have">
        <b>{figures(have)}</b>
        {rest && <span className={cell.second}>{rest}</span>}
      </td>
      <td className={cell.num} data-label="found">
        {figures(found)}
        {left && <span className={cell.second}>{left}</span>}
      </td>
      <td className={cell.num} data-label="registered">
        {figures(registered)}
      </td>
      <td className={cell.num} data-label="sent">
        {figures(sent)}
      </td>
      <td className={cell.num} data-label="received">
        {figures(received)}
      </td>
      <td className={cell.num} data-label="settled">
        {figures(settled)}
      </td>
    </tr>
  );
}
