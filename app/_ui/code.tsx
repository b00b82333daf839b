import type { ReactNode } from "react";
import styles from "./code.module.css";

/** An identifier (tag, model, serial, date code, hash) in the face with a crossed zero. `wrap` for long ones. */
export function Code({ children, wrap }: { children: ReactNode; wrap?: boolean }) {
  return <span className={wrap ? `${styles.code} ${styles.wrap}` : styles.code}>{children}</span>;
}
