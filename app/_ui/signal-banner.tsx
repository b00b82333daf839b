import type { ReactNode } from "react";
import { SignalWord, type SignalWordName, signalClass } from "./signal-word";
import styles from "./signal-word.module.css";

/** The caution where the danger is: the panel, then what to do now in the first sentence. `stacked` puts the panel on top; `text` is the word in another language. */
export function SignalBanner(props: { word: SignalWordName; text?: string; stacked?: boolean; children: ReactNode }) {
  const { word, text = word, stacked, children } = props;
  return (
    <div className={[styles.banner, signalClass[word], stacked ? styles.stacked : ""].join(" ")} role="note" aria-label={text}>
      <SignalWord word={word} text={text} />
      <div className={styles.words}>{children}</div>
    </div>
  );
}
