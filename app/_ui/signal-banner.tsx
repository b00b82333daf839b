import type { ReactNode } from "react";
import { SignalWord, type SignalWordName, signalClass } from "./signal-word";
import styles from "./signal-word.module.css";

/** The caution where the danger is: the panel, then what to do now in the first sentence. `stacked` puts the panel on top. */
export function SignalBanner({ word, stacked, children }: { word: SignalWordName; stacked?: boolean; children: ReactNode }) {
  return (
    <div className={[styles.banner, signalClass[word], stacked ? styles.stacked : ""].join(" ")} role="note" aria-label={word}>
      <SignalWord word={word} />
      <div className={styles.words}>{children}</div>
    </div>
  );
}
