import type { ReactNode } from "react";
import { Acts } from "./button";
import styles from "./plain-page.module.css";

/** A page that says one thing and offers one way on. */
export function PlainPage({ title, children, action }: { title: string; children: ReactNode; action: ReactNode }) {
  return (
    <div className={styles.page}>
      <h1>{title}</h1>
      <p>{children}</p>
      <Acts>{action}</Acts>
    </div>
  );
}
