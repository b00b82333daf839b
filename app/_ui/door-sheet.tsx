import type { ReactNode } from "react";
import { GeneralCautions } from "./cautions";
import styles from "./door-sheet.module.css";
import { Wordmark } from "./masthead";

/** A page outside the house, for whoever is not signed in: one sheet with its head, and the cautions below. */
export function DoorSheet({ title, lead, children }: { title: string; lead?: ReactNode; children?: ReactNode }) {
  return (
    <main className={styles.page}>
      <div className={styles.sheet}>
        <header className={styles.head}>
          <Wordmark />
        </header>
        <h1>{title}</h1>
        {lead && <p className={styles.lead}>{lead}</p>}
        {children}
      </div>
      <footer className={styles.foot}>
        <GeneralCautions />
      </footer>
    </main>
  );
}

/** Small print below a form of a door sheet. */
export function SmallPrint({ children }: { children: ReactNode }) {
  return <p className={styles.small}>{children}</p>;
}
