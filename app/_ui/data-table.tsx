import Link from "next/link";
import type { ReactNode } from "react";
import styles from "./data-table.module.css";

/** Classes for cells and rows: `num` right-aligned figures, `second` a grey second line, `chosen` a ticked row; on a phone with
 * `cards`: `wide` takes the whole line, `gone` leaves. Give a cell `data-label` to say its column's name on a phone. */
export const cell = {
  num: styles.num,
  wide: styles.wide,
  gone: styles.gone,
  chosen: styles.chosen,
  second: styles.second,
} as const;

/** A ruled table; it scrolls sideways in its own frame, which the keyboard reaches (WCAG 2.1.1), or with `cards` becomes a list on a phone. Children: thead and tbody. */
export function DataTable(props: { caption: string; showCaption?: boolean; cards?: boolean; top?: boolean; children: ReactNode }) {
  const names = [styles.table, props.cards ? styles.cards : "", props.top ? styles.top : ""].filter(Boolean).join(" ");
  return (
    <section className={styles.scroll} aria-label={props.caption} tabIndex={props.cards ? undefined : 0}>
      <table className={names}>
        <caption className={props.showCaption ? undefined : "vh"}>{props.caption}</caption>
        {props.children}
      </table>
    </section>
  );
}

interface Column {
  readonly name: string;
  readonly isFigures?: true;
  readonly isSpoken?: true;
}

/** The head of a column of figures. */
export const figureColumn = (name: string): Column => ({ name, isFigures: true });

/** A head that only a screen reader says, over a column that explains itself. */
export const spokenColumn = (name: string): Column => ({ name, isSpoken: true });

/** The heads of a table that does not sort. */
export function TableHead({ columns }: { columns: readonly (string | Column)[] }) {
  return (
    <thead>
      <tr>
        {columns.map((given) => {
          const { name, isFigures, isSpoken }: Column = typeof given === "string" ? { name: given } : given;
          return (
            <th key={name} scope="col" className={isFigures ? styles.num : undefined}>
              {isSpoken ? <span className="vh">{name}</span> : name}
            </th>
          );
        })}
      </tr>
    </thead>
  );
}

/** A column head that sorts: a link whose address carries the order. */
export function SortHead(props: { label: string; href: string; order?: "ascending" | "descending" | undefined; num?: boolean }) {
  const arrow = props.order === "ascending" ? " ↑" : props.order === "descending" ? " ↓" : "";
  return (
    <th scope="col" className={props.num ? styles.num : undefined} {...(props.order ? { "aria-sort": props.order } : {})}>
      <Link className={styles.sort} href={props.href} scroll={false}>
        {props.label}
        {arrow}
      </Link>
    </th>
  );
}
