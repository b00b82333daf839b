import Link from "next/link";
import styles from "./readings-links.module.css";

const pages = [
  ["/readings", "Screening"],
  ["/readings/energy", "Energy"],
  ["/readings/energy/events", "Demand response"],
  ["/readings/energy/rules", "Tariffs and limits"],
  ["/readings/reconnection", "Reconnection"],
  ["/readings/policy", "Policy"],
] as const;

/** The pages that belong to readings; a chosen site goes along. */
export function ReadingsLinks({ here, siteId }: { here: (typeof pages)[number][0]; siteId?: string | undefined }) {
  return (
    <nav className={styles.links} aria-label="Readings">
      {pages.map(([path, words]) => (
        <Link key={path} href={siteId ? `${path}?site=${siteId}` : path} aria-current={path === here ? "page" : undefined}>
          {words}
        </Link>
      ))}
    </nav>
  );
}
