import type { ReactNode } from "react";
import styles from "./small-parts.module.css";

/** How far a long job is. `total` null means that the end is not known. The children say rows so far and time left. */
export function Progress(props: { label: string; done: number; total: number | null; children?: ReactNode }) {
  const { label, done, total, children } = props;
  const percent = total !== null && total > 0 ? Math.min(100, Math.round((done / total) * 100)) : null;
  return (
    <div className={styles.progress}>
      <div
        className={percent === null ? `${styles.track} ${styles.unknown}` : styles.track}
        role="progressbar"
        aria-label={label}
        aria-valuemin={0}
        aria-valuemax={100}
        aria-valuenow={percent ?? undefined}
      >
        <i style={percent === null ? undefined : { width: `${percent}%` }} />
      </div>
      {children && <p>{children}</p>}
    </div>
  );
}
