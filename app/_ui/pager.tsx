import Link from "next/link";
import type { ReactNode } from "react";
import styles from "./pager.module.css";

/** The page numbers to offer: the ends, the present one and its neighbours; null is a gap. */
export function offeredPages(page: number, pages: number): (number | null)[] {
  const wanted = [...new Set([1, page - 1, page, page + 1, pages])].filter((n) => n >= 1 && n <= pages).sort((a, b) => a - b);
  return wanted.flatMap((n, i) => (i > 0 && n - (wanted[i - 1] ?? 0) > 1 ? [null, n] : [n]));
}

/** Pages as links, so that the place is in the address. `href` gives the address of a page, counted from 1. Two on a page need a `label` each. */
export function Pager(props: { page: number; pages: number; href: (page: number) => string; label?: string; children?: ReactNode }) {
  const { page, pages, href, label = "Pages", children } = props;
  if (pages <= 1 && !children) return null;
  return (
    <nav className={styles.paging} aria-label={label}>
      <span>{children}</span>
      {pages > 1 && (
        <div className={styles.pages}>
          {page > 1 && (
            <Link href={href(page - 1)} rel="prev">
              Back
            </Link>
          )}
          {offeredPages(page, pages).map((n, i) =>
            n === null ? (
              // biome-ignore lint/suspicious/noArrayIndexKey: a gap has no other name
              <span key={`gap${i}`}>…</span>
            ) : (
              <Link key={n} href={href(n)} aria-current={n === page ? "page" : undefined}>
                {n}
              </Link>
            ),
          )}
          {page < pages && (
            <Link href={href(page + 1)} rel="next">
              Next
            </Link>
          )}
        </div>
      )}
    </nav>
  );
}
