import type { ReactNode } from "react";
import styles from "./page-head.module.css";

export interface TitleCell {
  readonly label: string;
  readonly value: ReactNode;
}

/** Small ruled cells, as in the corner of a drawing: the word above the value. */
export function TitleBlock({ cells }: { cells: readonly TitleCell[] }) {
  return (
    <dl className={styles.block}>
      {cells.map(({ label, value }) => (
        <div key={label}>
          <dt>{label}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
