import Link from "next/link";
import { Code } from "@/app/_ui/code";
import type { Answer, Ask } from "@/lib/matching/candidate";
import type { Coverage } from "@/lib/notices/coverage";
import { gradeWords } from "../../_parts/grade-words";
import { AnswerForm } from "./answer-form";
import styles from "./review.module.css";

const labels: Readonly<Record<Ask["field"], string>> = {
  brand: "The name on the appliance",
  model: "The model on the plate",
  serial: "The serial number on the plate",
  dateCode: "The date code on the appliance",
  made: "Made (YYYY, YYYY-MM or YYYY-MM-DD)",
  product: "What it is",
  upc: "The product number (UPC)",
};
const isCode = (field: Ask["field"]) => field === "model" || field === "serial" || field === "dateCode" || field === "upc";
const isPattern = (value: string) => /[?#@*]/.test(value);

/** Values that the notice itself names for the asked field. */
function namedValues({ field }: Ask, { brands, models, products }: Coverage): string[] {
  const named = field === "brand" ? brands : field === "model" ? models.include : field === "product" ? products : [];
  return named.filter((value) => !isPattern(value));
}

/** An answer that writes no fact leads to the decision, with its reason begun. */
function decisionHref(candidateId: string, { label, leadsTo }: Answer, ask: Ask): string | null {
  const cannot = /cannot be read/i.test(label);
  const settles = leadsTo === "not_covered" && (ask.field === "product" || /nothing else/i.test(label));
  if (!cannot && !settles) return null;
  const why = cannot ? `${labels[ask.field]} cannot be read.` : `${ask.question} ${label}.`;
  const params = new URLSearchParams({ verdict: cannot ? "unsure" : "not_affected", why });
  return `/recalls/review/${candidateId}?${params}#decide`;
}

/** The one question that would settle it, where to look, and what each answer leads to. */
export function AskPanel(props: { candidateId: string; ask: Ask; coverage: Coverage; mayAnswer: boolean }) {
  const { candidateId, ask, coverage, mayAnswer } = props;
  const suggestions = namedValues(ask, coverage);
  const ready = ask.answers.filter(({ label }) => suggestions.includes(label)).map(({ label, leadsTo }) => ({ value: label, leadsTo }));
  const others = ask.answers.filter(({ label }) => !suggestions.includes(label));
  return (
    <section className={styles.ask} aria-labelledby="the-question">
      <div>
        <p className="small soft">The one question that would settle it</p>
        <h2 id="the-question">{ask.question}</h2>
        {ask.where ? (
          <p className={styles.where}>
            The notice says where: <q>{ask.where}</q>
          </p>
        ) : (
          <p className="soft">The notice does not say where it is printed: look at the rating plate and at the plug.</p>
        )}
        <p className="soft">Unplug it and let it cool before turning it.</p>
        <ul className={styles.follows}>
          {others.map((answer) => {
            const href = decisionHref(candidateId, answer, ask);
            return (
              <li key={answer.label}>
                {href ? <Link href={href}>{answer.label}</Link> : <Code wrap>{answer.label}</Code>}{" "}
                <span className="soft">then: {then(answer)}</span>
              </li>
            );
          })}
        </ul>
      </div>
      {mayAnswer && (
        <AnswerForm
          candidateId={candidateId}
          field={ask.field}
          label={labels[ask.field]}
          ready={ready}
          suggestions={suggestions}
          isCode={isCode(ask.field)}
        />
      )}
    </section>
  );
}

function then({ label, leadsTo }: Answer): string {
  return /cannot be read/i.test(label) ? "treat it as covered" : gradeWords[leadsTo];
}
