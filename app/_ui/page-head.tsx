import Link from "next/link";
import type { ReactNode } from "react";
import styles from "./page-head.module.css";
import { TitleBlock, type TitleCell } from "./title-block";

export interface Crumb {
  readonly label: string;
  readonly href?: string;
}

/** The title over its heavy rule: crumbs above, one summary sentence below, the title block at the right. */
export function PageHead(props: { title: ReactNode; lead?: ReactNode; crumbs?: readonly Crumb[]; cells?: readonly TitleCell[] }) {
  const { title, lead, crumbs = [], cells = [] } = props;
  return (
    <div className={styles.head}>
      <div className={styles.title}>
        {crumbs.length > 0 && (
          <nav aria-label="Where this page is">
            <ol className={styles.crumbs}>
              {crumbs.map(({ label, href }) => (
                <li key={label}>{href ? <Link href={href}>{label}</Link> : label}</li>
              ))}
            </ol>
          </nav>
        )}
        <h1>{title}</h1>
        {lead && <p className={styles.lead}>{lead}</p>}
      </div>
      {cells.length > 0 && <TitleBlock cells={cells} />}
    </div>
  );
}
