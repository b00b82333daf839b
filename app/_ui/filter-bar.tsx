import Form from "next/form";
import Link from "next/link";
import type { ReactNode } from "react";
import styles from "./filter-bar.module.css";

/** A row of filters; the first child (the search) is widest. It sends a GET, so that the address holds the whole state.
 * `more` holds the rarer filters, folded away; `label` tells a page's second row from its first. */
export function FilterBar({ action, children, more, label }: { action: string; children: ReactNode; more?: ReactNode; label?: string }) {
  return (
    <Form className={styles.filters} action={action} role="search" {...(label ? { "aria-label": label } : {})}>
      {children}
      {more && (
        <details className={styles.more}>
          <summary>More filters</summary>
          <div>{more}</div>
        </details>
      )}
    </Form>
  );
}

export interface FilterChip {
  /** The filter in words, such as "last seen within 30 days". */
  readonly label: string;
  /** The address without it. */
  readonly offHref: string;
}

/** What is on, written out, each with a way to take it off. */
export function FilterChips({ chips, clearHref }: { chips: readonly FilterChip[]; clearHref: string }) {
  if (chips.length === 0) return null;
  return (
    <div className={styles.on}>
      <span>On:</span>
      {chips.map(({ label, offHref }) => (
        <span className={styles.pick} key={label}>
          {label}
          <Link href={offHref} aria-label={`Take off: ${label}`} scroll={false}>
            ×
          </Link>
        </span>
      ))}
      <Link href={clearHref}>Clear all</Link>
    </div>
  );
}

/** The bar over a table when rows are chosen: how many, and what to do with them. */
export function ChoiceBar({ children }: { children: ReactNode }) {
  return <div className={styles.chosen}>{children}</div>;
}
