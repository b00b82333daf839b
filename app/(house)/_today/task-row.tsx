import type { ReactNode } from "react";
import { ButtonLink } from "@/app/_ui/button";
import { SignalWord } from "@/app/_ui/signal-word";
import { waiting } from "@/lib/casework/due-words";
import type { SignalWord as Word } from "@/lib/watch/screening-result";
import styles from "./today.module.css";

export interface TaskParts {
  readonly word: Word;
  readonly since: Date;
  readonly now: Date;
  /** Plate, bar and sentence. */
  readonly what: ReactNode;
  readonly where: ReactNode;
  readonly due: ReactNode;
  readonly act: { readonly href: string; readonly label: string; readonly isMain: boolean };
}

/** One row of the day's work: how long it has waited, its word, what, where, due and whose, and one button. */
export function TaskRow({ word, since, now, what, where, due, act }: TaskParts) {
  const age = waiting(since, now);
  return (
    <article className={styles.task}>
      <div className={styles.age}>
        {age.count} <small>{age.unit}</small>
      </div>
      <div className={styles.word}>
        <SignalWord word={word} />
      </div>
      <div className={styles.what}>{what}</div>
      <div className={styles.where}>{where}</div>
      <div className={styles.due}>{due}</div>
      <div className={styles.act}>
        <ButtonLink look={act.isMain ? "main" : "plain"} href={act.href}>
          {act.label}
        </ButtonLink>
      </div>
    </article>
  );
}
