import type { ReactNode } from "react";
import styles from "./small-parts.module.css";

/** Nothing here: why, and the one thing to do about it (the filter to drop, the page to go to). */
export function EmptyState({ head, children, action }: { head: string; children: ReactNode; action?: ReactNode }) {
  return (
    <div className={styles.empty}>
      <h3>{head}</h3>
      <p>{children}</p>
      {action}
    </div>
  );
}
