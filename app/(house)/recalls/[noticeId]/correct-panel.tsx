import Link from "next/link";
import type { ReactNode } from "react";
import { FormId } from "@/app/_ui/form-id";
import type { Coverage } from "@/lib/notices/coverage";
import type { Notice } from "@/lib/notices/notice";
import { type Statement, statementKey, statementNames, statementWords } from "@/lib/notices/statement";
import { patternSyntax } from "@/lib/registry/coverage-correction-input";
import type { CoverageReview } from "@/lib/registry/coverage-review";
import { AddForm } from "./add-form";
import { correctionWords } from "./corrections";
import styles from "./notice.module.css";
import { ReasonForm } from "./reason-form";
import { readFrom, readWords } from "./words-at";

export interface CorrectPanelProps {
  readonly notice: { readonly id: string; readonly contentHash: string; readonly body: Notice; readonly coverage: Coverage };
  readonly review: CoverageReview;
  /** What the address chose: words of the notice, a statement to take out, a correction to withdraw. */
  readonly chosen: { readonly words?: string | undefined; readonly take?: string | undefined; readonly withdraw?: string | undefined };
}

const named = (statement: Statement) => `${statementNames[statement.kind]}: ${statementWords(statement)}`;

/** The one place where a reading is corrected: a statement taken out, a correction withdrawn, words read by a person, or a statement added. */
export function CorrectPanel({ notice, review, chosen }: CorrectPanelProps) {
  const { id: noticeId, contentHash: noticeHash } = notice;
  const about = { noticeId, noticeHash };
  const taken = review.statements.find(({ key, added }) => key === chosen.take && added === null);
  const withdrawn = review.corrections.find(({ id }) => id === chosen.withdraw);
  if (taken)
    return (
      <Panel head={`Take out “${named(taken.statement)}”?`} noticeId={noticeId}>
        <p className="soft">It stays out when the list is loaded again, until the correction is withdrawn.</p>
        <ReasonForm key={taken.key} work="takeOut" hidden={{ ...about, statementKey: taken.key }} label="Why it is not so" />
      </Panel>
    );
  if (withdrawn)
    return (
      <Panel head="Withdraw this correction?" noticeId={noticeId}>
        <p>
          {correctionWords(withdrawn)}. <span className="soft">{withdrawn.reason}</span>
        </p>
        <ReasonForm key={withdrawn.id} work="withdraw" hidden={{ noticeId, correctionId: withdrawn.id }} label="Why it is withdrawn" />
      </Panel>
    );
  const words = readWords(notice.body, chosen.words);
  if (!words)
    return (
      <section className={styles.correct} id="correct" aria-label="Add a statement">
        <Done review={review} chosen={chosen} />
        <AddForm {...about} passage="" syntax={patternSyntax} text="">
          <FormId />
        </AddForm>
      </section>
    );
  const { statements, isUnread } = readFrom(notice.coverage, words);
  const { end: _, ...quoted } = words;
  const passage = JSON.stringify(quoted);
  return (
    <Panel head={isUnread ? "These words were not understood" : "What was read here"} noticeId={noticeId}>
      <blockquote className={styles.quote}>{words.quote}</blockquote>
      {statements.length > 0 && (
        <ul className={styles.read}>
          {statements.map((statement) => (
            <li key={statementKey(statement)}>
              {named(statement)}{" "}
              <Link href={`/recalls/${noticeId}?${new URLSearchParams({ take: statementKey(statement) })}#correct`} scroll={false}>
                Take it out
              </Link>
            </li>
          ))}
        </ul>
      )}
      <h3>{statements.length > 0 ? "Or add what it says besides" : "What does it say?"}</h3>
      <AddForm
        key={passage}
        {...about}
        passage={passage}
        syntax={patternSyntax}
        text={/^\S{2,40}$/.test(words.quote) && /\d/.test(words.quote) ? words.quote : ""}
      >
        <FormId />
      </AddForm>
      {isUnread && (
        <>
          <h3>Or it says nothing that an appliance could be compared with</h3>
          <ReasonForm key={`${passage} dismissed`} work="dismiss" hidden={{ ...about, passage }} label="What it is about" />
        </>
      )}
    </Panel>
  );
}

/** Said once the statement or correction that the address chose is out. */
function Done({ review, chosen }: Pick<CorrectPanelProps, "review" | "chosen">) {
  const isOut = review.corrections.some(
    ({ correction }) => correction.act === "remove" && statementKey(correction.statement) === chosen.take,
  );
  const isWithdrawn = review.withdrawn.some(({ id }) => id === chosen.withdraw);
  if (!isOut && !isWithdrawn) return null;
  return (
    <p role="status">
      <b>{isOut ? "The statement is out" : "The correction is withdrawn"}, and the notice was compared again.</b>
    </p>
  );
}

function Panel({ head, noticeId, children }: { head: string; noticeId: string; children: ReactNode }) {
  return (
    <section className={styles.correct} id="correct" aria-labelledby="correct-head">
      <h3 id="correct-head">{head}</h3>
      {children}
      <p className="small">
        <Link href={`/recalls/${noticeId}#correct`} scroll={false}>
          Leave it as it is
        </Link>
      </p>
    </section>
  );
}
