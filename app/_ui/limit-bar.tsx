import type { CSSProperties, ReactNode } from "react";
import styles from "./limit-bar.module.css";

export interface LimitBarProps {
  /** The largest steady draw seen; null when there are no readings. */
  readonly seen: number | null;
  /** What the plate allows; null when no limit is known. */
  readonly allowed: number | null;
  /** The rating itself, drawn by the hero bar only. */
  readonly rated?: number | null;
  readonly unit: "W" | "A" | "V" | "kWh";
  /** `line` has the words beside the bar, `stack` below it (table cells), `hero` is the tall one under the plate. */
  readonly size?: "line" | "stack" | "hero";
  /** What the limit is called: "allowed" for an appliance, "device" for a circuit. */
  readonly limitWord?: string;
}

const figure = (value: number) => String(value >= 100 ? Math.round(value) : Math.round(value * 100) / 100);

function barClass(ratio: number | null): string {
  return [styles.bar, ratio === null ? styles.none : "", ratio !== null && ratio > 1.25 ? styles.off : ""].filter(Boolean).join(" ");
}

function Bar({ ratio, words, children }: { ratio: number | null; words: string; children?: ReactNode }) {
  const style = { "--r": ratio ?? 0 } as CSSProperties;
  return (
    <span className={barClass(ratio)} style={style} role="img" aria-label={words}>
      {ratio !== null && <i className={styles.seen} />}
      {ratio !== null && ratio > 1 && <b className={styles.past} />}
      {children}
    </span>
  );
}

/** Seen against allowed. Past the limit it is hatched and said in bold; past 125 % the bar ends in an arrowhead. */
export function LimitBar(props: LimitBarProps) {
  const { seen, allowed, unit, size = "line", limitWord = "allowed" } = props;
  const ratio = seen !== null && allowed !== null && allowed > 0 ? seen / allowed : null;
  const seenWords = seen === null ? "no readings" : `${figure(seen)} ${unit} seen`;
  const limitWords = allowed === null ? "no limit known" : `${figure(allowed)} ${unit} ${limitWord}`;
  const words = `${seenWords}, ${limitWords}`;
  if (size === "hero") return <HeroBar {...props} ratio={ratio} words={words} />;
  const text = (
    <span className={size === "line" ? styles.words : undefined} aria-hidden="true">
      <span className={ratio !== null && ratio > 1 ? styles.over : undefined}>{seenWords}</span>
      {seen !== null && `, ${allowed === null ? limitWords : `${figure(allowed)} ${limitWord}`}`}
    </span>
  );
  return (
    <div className={size === "line" ? styles.line : styles.stack}>
      <Bar ratio={ratio} words={words} />
      {text}
    </div>
  );
}

function HeroBar({
  seen,
  allowed,
  rated,
  unit,
  ratio,
  words,
  limitWord = "allowed",
}: LimitBarProps & { ratio: number | null; words: string }) {
  const over = ratio !== null && ratio > 1 ? styles.over : undefined;
  const ratedAt = rated && allowed ? Math.min((rated / allowed) * 80, 99) : null;
  const seenEnd = ratio === null ? 0 : Math.max(100 - Math.min(ratio, 1.25) * 80, 0);
  return (
    <div className={styles.hero}>
      <span className={`${styles.label} ${styles.atTop}`} style={ratio === null || ratio < 0.4 ? { left: 0 } : { right: `${seenEnd}%` }}>
        <b className={over}>{seen === null ? "no readings" : `${figure(seen)} ${unit} seen`}</b>{" "}
        {ratio !== null && (
          <span className={over}>
            {Math.round(ratio * 100)} % of {limitWord}
          </span>
        )}
      </span>
      <Bar ratio={ratio} words={words}>
        {ratedAt !== null && <span className={styles.rated} style={{ left: `${ratedAt}%` }} />}
      </Bar>
      {ratedAt !== null && rated && (
        <span className={`${styles.label} ${styles.atBottom} ${styles.ratedLabel}`} style={{ right: `${100 - ratedAt + 0.7}%` }}>
          rated {figure(rated)} {unit}
        </span>
      )}
      {allowed !== null && (
        <span className={`${styles.label} ${styles.atBottom}`} style={{ right: 0 }}>
          <strong>
            {limitWord} {figure(allowed)} {unit}
          </strong>
        </span>
      )}
    </div>
  );
}
