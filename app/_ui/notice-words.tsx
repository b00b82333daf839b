import type { ReactNode } from "react";
import styles from "./small-parts.module.css";

/** Other people's words, the regulator's above all: in the serif, never edited. */
export function NoticeWords({ children }: { children: ReactNode }) {
  return <div className={styles.words}>{children}</div>;
}
