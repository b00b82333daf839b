import Link from "next/link";
import type { ReactNode } from "react";
import { Mark } from "./mark";
import styles from "./masthead.module.css";

/** The mark and the name. */
export function Wordmark() {
  return (
    <Link className={styles.word} href="/">
      <Mark />
      <span>Platewarden</span>
    </Link>
  );
}

/** The frame of every page in the house: skip link, masthead over its double rule, the page, the caution at the foot. */
export function Frame(props: { place: ReactNode; rooms: ReactNode; person: ReactNode; foot: ReactNode; children: ReactNode }) {
  return (
    <div className={styles.body}>
      <a className={styles.skip} href="#main">
        To the content
      </a>
      <header className={styles.mast}>
        <div className={styles.in}>
          <Wordmark />
          <div className={styles.site}>{props.place}</div>
          {props.rooms}
          {props.person}
        </div>
      </header>
      <main id="main" className={styles.main}>
        {props.children}
      </main>
      <footer className={styles.foot}>
        <div>{props.foot}</div>
      </footer>
    </div>
  );
}
