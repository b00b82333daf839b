import Link from "next/link";
import { Fragment } from "react";
import { Code } from "@/app/_ui/code";
import { type StatementKind, statementKinds, statementNames, statementWords } from "@/lib/notices/statement";
import type { CoveredStatement } from "@/lib/registry/coverage-review";
import styles from "./notice.module.css";

const plainKinds: readonly StatementKind[] = ["brand", "product", "all_models"];
const headOf: Readonly<Record<StatementKind, string>> = {
  ...statementNames,
  brand: "Makers",
  product: "Products",
  model: "Models",
  upc: "Product numbers",
};
const order: readonly StatementKind[] = ["brand", "product", "all_models", ...statementKinds.filter((kind) => !plainKinds.includes(kind))];

/** What a notice is taken to cover, statement by statement; each leads to its correction where the person may correct. */
export function Covers(props: { noticeId: string; statements: readonly CoveredStatement[]; mayCorrect: boolean }) {
  const { noticeId, statements, mayCorrect } = props;
  const kinds = order.filter((kind) => statements.some(({ statement }) => statement.kind === kind));
  const statesModels = kinds.includes("model") || kinds.includes("all_models");
  return (
    <div>
      <dl className={styles.covers}>
        {kinds.map((kind) => (
          <Fragment key={kind}>
            <dt>{headOf[kind]}</dt>
            <dd>
              {statements
                .filter(({ statement }) => statement.kind === kind)
                .map((one) => (
                  <One key={one.key} noticeId={noticeId} one={one} mayCorrect={mayCorrect} />
                ))}
            </dd>
          </Fragment>
        ))}
        {!statesModels && (
          <>
            <dt>Models</dt>
            <dd className="mute">no model stated</dd>
          </>
        )}
      </dl>
      <p className="small mute">
        In a model or serial # is one digit, @ one letter, ? any character, * any run of them.
        {mayCorrect && " Press a statement to take it out."}
      </p>
    </div>
  );
}

function One({ noticeId, one, mayCorrect }: { noticeId: string; one: CoveredStatement; mayCorrect: boolean }) {
  const { statement, key, added } = one;
  const words = statementWords(statement);
  const shown = plainKinds.includes(statement.kind) ? words : <Code wrap>{words}</Code>;
  const query = new URLSearchParams(added ? { withdraw: added.id } : { take: key });
  return (
    <span className={added ? `${styles.statement} ${styles.added}` : styles.statement}>
      {mayCorrect ? (
        <Link href={`/recalls/${noticeId}?${query}#correct`} scroll={false} title={added ? "Withdraw it" : "Take it out"}>
          {shown}
          <span className="vh">{added ? ", added by a person: withdraw it" : ": take it out"}</span>
        </Link>
      ) : (
        shown
      )}
      {added && <span className="small soft"> added by {added.by}</span>}
    </span>
  );
}
