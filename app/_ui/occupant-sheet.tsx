import type { ReactNode } from "react";
import { type OccupantLanguage, speaker } from "@/lib/casework/occupant-texts";
import type { LetterBlock } from "@/lib/documents/occupant-letter";
import styles from "./door-sheet.module.css";
import { Wordmark } from "./masthead";
import { SignalBanner } from "./signal-banner";

interface SheetProps {
  readonly language: OccupantLanguage;
  readonly title: string;
  readonly lead?: string | undefined;
  readonly children?: ReactNode;
}

/** A page for an occupant or a finder, in their language: one sheet, and the cautions below. */
export function OccupantSheet({ language, title, lead, children }: SheetProps) {
  return (
    <main className={styles.page} lang={language}>
      <div className={styles.sheet}>
        <header className={styles.head}>
          <Wordmark />
        </header>
        <h1>{title}</h1>
        {lead && <p className={styles.lead}>{lead}</p>}
        {children}
      </div>
      <footer className={styles.foot}>
        <p className="small soft">{speaker(language)("small_print")}</p>
      </footer>
    </main>
  );
}

/** One block of a notice; `link` stands below the words about the link. */
export function LetterPart({ block, link }: { block: LetterBlock; link?: ReactNode }) {
  if (block.kind === "warning")
    return (
      <SignalBanner word={block.word} text={block.wordText} stacked>
        <p>
          <b>{block.first}</b>
        </p>
        {block.lines.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </SignalBanner>
    );
  if (block.kind === "quote")
    return (
      <blockquote className={styles.quote}>
        <p className="small soft">{block.head}</p>
        <p>{block.words}</p>
      </blockquote>
    );
  if (block.kind === "link")
    return (
      <div>
        <p>{block.words}</p>
        {link}
      </div>
    );
  return block.lines.map((line) => <p key={line}>{line}</p>);
}
