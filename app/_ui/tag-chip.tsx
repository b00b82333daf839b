import Link from "next/link";
import styles from "./tag-chip.module.css";

/** A tag code, drawn as the tag on the plug. */
export function TagChip({ tag, href, large }: { tag: string; href?: string; large?: boolean }) {
  const name = large ? `${styles.tag} ${styles.large}` : styles.tag;
  return href ? (
    <Link className={name} href={href}>
      {tag}
    </Link>
  ) : (
    <span className={name}>{tag}</span>
  );
}
