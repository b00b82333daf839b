import Link from "next/link";
import { Code } from "@/app/_ui/code";
import { cell } from "@/app/_ui/data-table";
import type { RecordLine } from "@/lib/access/read-record";
import { changesOf } from "./changes";
import styles from "./record.module.css";

const pages: Readonly<Record<string, string>> = {
  appliance: "/appliances",
  finding: "/findings",
  notice: "/recalls",
  import: "/bring-in",
};

export function RecordLineRow({ line }: { line: RecordLine }) {
  const page = pages[line.subjectKind];
  return (
    <tr>
      <td className={cell.num}>{line.number}</td>
      <td className="nw">{line.at.toISOString().slice(0, 19).replace("T", " ")}</td>
      <td>{line.who}</td>
      <td className={cell.wide}>
        {line.what}
        <span className={cell.second}>
          {page ? <Link href={`${page}/${line.subjectId}`}>{line.subjectKind}</Link> : line.subjectKind}
          {" · "}
          <Link href={`/record?subject=${encodeURIComponent(line.subjectId)}`}>all of it</Link>
        </span>
      </td>
      <td className={cell.wide}>
        <Changes line={line} />
      </td>
      <td className={cell.gone}>
        <Code>{line.hash.slice(0, 12)}</Code>
      </td>
    </tr>
  );
}

function Changes({ line }: { line: RecordLine }) {
  const changes = changesOf(line.before, line.after);
  return (
    <ul className={styles.details}>
      {changes.map(({ field, was, is }) => (
        <li key={field}>
          {field}: {was !== null && <span className={styles.was}>{was}</span>} {is}
        </li>
      ))}
    </ul>
  );
}
