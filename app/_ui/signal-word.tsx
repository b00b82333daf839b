import styles from "./signal-word.module.css";

/** The four signal words of ANSI Z535.4; ISO 3864-2 has the first three. */
export type SignalWordName = "DANGER" | "WARNING" | "CAUTION" | "NOTICE";

/** The class of a word's panel. */
export const signalClass: Readonly<Record<SignalWordName, string | undefined>> = {
  DANGER: styles.danger,
  WARNING: styles.warning,
  CAUTION: styles.caution,
  NOTICE: styles.notice,
};
// The alert symbol is a triangle in the word's own colour with the mark in the panel's.
const symbol: Readonly<Record<Exclude<SignalWordName, "NOTICE">, { triangle: string; mark: string }>> = {
  DANGER: { triangle: "#fff", mark: "#c8102e" },
  WARNING: { triangle: "#000", mark: "#ff8200" },
  CAUTION: { triangle: "#000", mark: "#ffd100" },
};

/** Reads a stored word in any case; unknown text is no word. */
export function asSignalWord(text: string): SignalWordName | null {
  const word = text.toUpperCase();
  return word in signalClass ? (word as SignalWordName) : null;
}

/** A signal word with its symbol, always both together; `text` is the word in another language. NOTICE has no triangle: it is not about injury. */
export function SignalWord({ word, text = word }: { word: SignalWordName; text?: string }) {
  return (
    <span className={`${styles.sig} ${signalClass[word]}`}>
      {word !== "NOTICE" && (
        <svg viewBox="0 0 22 19" aria-hidden="true">
          <path d="M11 .6 21.6 18.6H.4z" fill={symbol[word].triangle} />
          <path d="M9.7 6h2.6l-.5 6.6h-1.6z" fill={symbol[word].mark} />
          <circle cx="11" cy="15.3" r="1.35" fill={symbol[word].mark} />
        </svg>
      )}
      {text}
    </span>
  );
}
