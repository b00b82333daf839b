import type { ReactNode } from "react";
import styles from "./side-section.module.css";

/** A stretch of a page: its head, how many and a note at the left, the rows at the right. */
export function SideSection(props: { head: ReactNode; count?: ReactNode; note?: ReactNode; id?: string; children: ReactNode }) {
  return (
    <section className={styles.group} id={props.id}>
      <div className={styles.side}>
        <h2>{props.head}</h2>
        {props.count && <div className={styles.count}>{props.count}</div>}
        {props.note && <p className={styles.note}>{props.note}</p>}
      </div>
      <div className={styles.rows}>{props.children}</div>
    </section>
  );
}

/** A section over the whole width, with its links or buttons at the right of the head. */
export function PlainSection(props: { head: ReactNode; aside?: ReactNode; id?: string; children: ReactNode }) {
  return (
    <section className={styles.plain} id={props.id}>
      <div className={styles.plainHead}>
        <h2>{props.head}</h2>
        {props.aside}
      </div>
      {props.children}
    </section>
  );
}
