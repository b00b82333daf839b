import Link from "next/link";
import styles from "./readings-links.module.css";

const pages = [
  ["/readings", "Screening"],
  ["/readings/trips", "Trips"],
  ["/readings/energy", "Energy"],
  ["/readings/energy/events", "Demand response"],
  ["/readings/energy/rules", "Tariffs and limits"],
  ["/readings/reconnection", "Reconnection"],
  ["/readings/policy", "Policy"],
  ["/readings/keys", "Keys"],
] as const;

/** The pages that belong to readings; a chosen site goes along. Keys are shown to who may manage them. */
export function ReadingsLinks(props: { here: (typeof pages)[number][0]; siteId?: string | undefined; mayKeys: boolean }) {
  const { here, siteId, mayKeys } = props;
  const shown = pages.filter(([path]) => mayKeys || path !== "/readings/keys");
  return (
    <nav className={styles.links} aria-label="Readings">
      {shown.map(([path, words]) => (
        <Link key={path} href={siteId ? `${path}?site=${siteId}` : path} aria-current={path === here ? "page" : undefined}>
          {words}
        </Link>
      ))}
    </nav>
  );
}
