"use client";

import Link from "next/link";
import { usePathname } from "next/navigation";
import styles from "./masthead.module.css";

export interface RoomLink {
  readonly href: string;
  readonly label: string;
  /** On a phone it stands behind "More". */
  readonly far: boolean;
}

function isHere(path: string, href: string): boolean {
  return href === "/" ? path === "/" : path === href || path.startsWith(`${href}/`);
}

/** The rooms of the house. In the browser only because the address decides which one is marked. */
export function RoomLinks({ rooms }: { rooms: readonly RoomLink[] }) {
  const path = usePathname();
  const link = ({ href, label, far }: RoomLink, inList = false) => (
    <Link key={href} href={href} className={far && !inList ? styles.far : undefined} aria-current={isHere(path, href) ? "page" : undefined}>
      {label}
    </Link>
  );
  return (
    <nav className={styles.rooms} aria-label="Rooms">
      {rooms.map((room) => link(room))}
      <button type="button" className={styles.moreButton} popoverTarget="more-rooms">
        More
      </button>
      <div id="more-rooms" popover="auto" className={styles.moreList} key={path}>
        {rooms.filter((room) => room.far).map((room) => link(room, true))}
      </div>
    </nav>
  );
}
