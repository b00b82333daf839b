import Link from "next/link";
import { Code } from "@/app/_ui/code";
import { type Answer, type Ask, gradeWords } from "@/lib/matching/candidate";
import type { Coverage } from "@/lib/notices/coverage";
import type { Verdict } from "@/lib/registry/decision-standing";
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

/** The verdict that an answer is, where it writes no fact: whoever compared the pictures, or could not read the plate, decides. */
function verdictOf({ label, leadsTo }: Answer, { field }: Ask): Verdict | null {
  if (/cannot be read/i.test(label)) return "unsure";
  if (leadsTo === "not_covered") return field === "product" || /nothing else/i.test(label) ? "not_affected" : null;
  return field === "product" && leadsTo !== "check_label" ? "affected" : null;
}

/** The decision with its reason begun. */
function decisionHref(candidateId: string, { label }: Answer, ask: Ask, verdict: Verdict): string {
  const why = verdict === "unsure" ? `${labels[ask.field]} cannot be read.` : `${ask.question} ${label}.`;
  const params = new URLSearchParams({ verdict, why });
  return `/recalls/review/${candidateId}?${params}#decide`;
}

/** The one question that would settle it, where to look, and what each answer leads to. */
export function AskPanel(props: { candidateId: string; ask: Ask; coverage: Coverage; mayAnswer: boolean }) {
  const { candidateId, ask, coverage, mayAnswer } = props;
  const suggestions = namedValues(ask, coverage);
  const isReady = (answer: Answer) => suggestions.includes(answer.label) && verdictOf(answer, ask) === null;
  const ready = ask.answers.filter(isReady).map(({ label, leadsTo }) => ({ value: label, leadsTo }));
  const others = ask.answers.filter((answer) => !isReady(answer));
  return (
    <section className={styles.ask} aria-labelledby="the-question">
      <div>
        <p className="small soft">The one question that would settle it</p>
        <h2 id="the-question">{ask.question}</h2>
        <Where ask={ask} />
        <ul className={styles.follows}>
          {others.map((answer) => {
            const verdict = verdictOf(answer, ask);
            return (
              <li key={answer.label}>
                {verdict ? (
                  <Link href={decisionHref(candidateId, answer, ask, verdict)}>{answer.label}</Link>
                ) : (
                  <Code wrap>{answer.label}</Code>
                )}{" "}
                <span className="soft">then: {then(answer, verdict)}</span>
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

/** Where to look, in the notice's words where it has any, and how to look safely. */
function Where({ ask }: { ask: Ask }) {
  if (ask.field === "product")
    return <p className="soft">Compare it with the words above and with the pictures at the regulator's site.</p>;
  return (
    <>
      {ask.where ? (
        <p className={styles.where}>
          The notice says where: <q>{ask.where}</q>
        </p>
      ) : (
        <p className="soft">The notice does not say where it is printed: look at the rating plate and at the plug.</p>
      )}
      <p className="soft">Unplug it and let it cool before turning it.</p>
    </>
  );
}

function then(answer: Answer, verdict: Verdict | null): string {
  if (verdict === "unsure") return "treat it as covered";
  return verdict === "affected" ? "decide “affected”" : gradeWords[answer.leadsTo];
}
