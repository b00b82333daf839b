import Link from "next/link";
import { cell, DataTable, SortHead } from "@/app/_ui/data-table";
import type { findNoticeList, NoticeQuery } from "@/lib/registry/recall-overview";
import type { NoticeSort } from "@/lib/store/notice-queries";
import { dayWords } from "./grade-words";
import styles from "./recalls.module.css";

type NoticeRow = Awaited<ReturnType<typeof findNoticeList>>["rows"][number];

const columns: readonly { readonly sort: NoticeSort; readonly label: string; readonly first: "asc" | "desc" }[] = [
  { sort: "number", label: "Number", first: "asc" },
  { sort: "date", label: "Date", first: "desc" },
  { sort: "title", label: "Title", first: "asc" },
];

/** What became of a notice since it was first loaded. */
function stateWords({ goneAt, amendedAt, firstLoadedAt }: NoticeRow): string {
  if (goneAt) return `not in the list since ${dayWords(goneAt)}; still compared`;
  return amendedAt ? `amended ${dayWords(amendedAt)}` : `loaded ${dayWords(firstLoadedAt)}`;
}

/** The loaded notices. */
export function NoticeTable(props: {
  rows: readonly NoticeRow[];
  query: NoticeQuery;
  href: (sort: NoticeSort, order: "asc" | "desc") => string;
}) {
  const { rows, query, href } = props;
  return (
    <DataTable caption="Notices of the loaded lists" cards top>
      <thead>
        <tr>
          {columns.map(({ sort, label, first }) => {
            const isOn = query.sort === sort;
            const next = isOn ? (query.order === "asc" ? "desc" : "asc") : first;
            const order = isOn ? (query.order === "asc" ? "ascending" : "descending") : undefined;
            return <SortHead key={sort} label={label} href={href(sort, next)} order={order} />;
          })}
          <th scope="col">State</th>
          <th scope="col" className={cell.num}>
            Appliances
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.id}>
            <td className={cell.wide}>
              <Link className={styles.number} href={`/recalls/${row.id}`}>
                {row.number}
              </Link>
            </td>
            <td className="nw">{row.date ? dayWords(row.date) : <span className="mute">no date</span>}</td>
            <td className={cell.wide}>
              <span className={styles.quoted}>{row.title}</span>
            </td>
            <td className={cell.wide}>
              {stateWords(row)}
              {!row.hasIdentifiers && <span className={cell.second}>no identifiers</span>}
              {row.checkedAt === null && <span className={cell.second}>not yet compared</span>}
            </td>
            <td className={cell.num} data-label="appliances">
              {row._count.candidates === 0 ? <span className="mute">none found</span> : row._count.candidates}
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
