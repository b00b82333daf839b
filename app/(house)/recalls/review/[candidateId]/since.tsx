import { Code } from "@/app/_ui/code";
import { cell, DataTable, TableHead } from "@/app/_ui/data-table";
import { PlainSection } from "@/app/_ui/side-section";
import type { FactChange } from "@/lib/identity/facts-change";
import { gradeWords } from "@/lib/matching/candidate";
import { type Statement, statementKey, statementNames, statementWords } from "@/lib/notices/statement";
import type { Piece } from "@/lib/notices/wording-diff";
import type { SinceDecision } from "@/lib/registry/decision-since";
import { dayWords } from "../../_parts/grade-words";
import styles from "./since.module.css";

const factNames: Readonly<Record<FactChange["name"], string>> = {
  brand: "Brand",
  model: "Model",
  serial: "Serial number",
  dateCode: "Date code",
  made: "Made",
  category: "Kind",
  upc: "Product number",
  labelText: "Plate as read",
};

/** What changed since the pair was decided on: label, statements, words and grade, then and now. */
export function Since({ since, decidedAt }: { since: SinceDecision; decidedAt: Date }) {
  const { facts, coverage, wording, grade, isKnown } = since;
  return (
    <PlainSection head={`What changed since it was decided on ${dayWords(decidedAt)}`} id="since">
      <Then facts={facts} grade={grade} />
      <Statements {...coverage} />
      {wording.length > 0 && (
        <div className={styles.part}>
          <h3>The notice's words</h3>
          {wording.map(({ part, pieces }) => (
            <div key={part} className={styles.change}>
              <h4>{part}</h4>
              <p className={styles.words}>
                {pieces.map((piece, at) => (
                  // biome-ignore lint/suspicious/noArrayIndexKey: the pieces of one change never move
                  <Words key={at} {...piece} />
                ))}
              </p>
            </div>
          ))}
        </div>
      )}
      {!isKnown && (
        <p className="small soft">
          The label and the statements of that time were not kept with this decision, so only words and grade can be compared.
        </p>
      )}
    </PlainSection>
  );
}

function Then({ facts, grade }: Pick<SinceDecision, "facts" | "grade">) {
  const isGraded = grade.before !== grade.after;
  if (facts.length === 0 && !isGraded) return null;
  return (
    <DataTable caption="Then and now" cards>
      <TableHead columns={["What", "When it was decided", "Now"]} />
      <tbody>
        {isGraded && (
          <tr>
            <th scope="row">The comparison</th>
            <td data-label="then">{gradeWords[grade.before]}</td>
            <td data-label="now">
              <b>{gradeWords[grade.after]}</b>
            </td>
          </tr>
        )}
        {facts.map(({ name, before, after }) => (
          <tr key={name}>
            <th scope="row">{factNames[name]}</th>
            <td className={cell.wide} data-label="then">
              <Read value={before} />
            </td>
            <td className={cell.wide} data-label="now">
              <Read value={after} />
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}

function Read({ value }: { value: string | null }) {
  return value === null ? <span className="mute">not read</span> : <Code wrap>{value}</Code>;
}

function Statements({ added, removed }: SinceDecision["coverage"]) {
  if (added.length + removed.length === 0) return null;
  return (
    <div className={styles.part}>
      <h3>What the notice is taken to cover</h3>
      <ul className={styles.statements}>
        {removed.map((statement) => (
          <Line key={statementKey(statement)} sign="−" words="no longer" statement={statement} />
        ))}
        {added.map((statement) => (
          <Line key={statementKey(statement)} sign="+" words="new" statement={statement} />
        ))}
      </ul>
    </div>
  );
}

function Line({ sign, words, statement }: { sign: string; words: string; statement: Statement }) {
  return (
    <li>
      <b className={styles.sign} aria-hidden="true">
        {sign}
      </b>
      <span className="soft">{words}:</span> {statementNames[statement.kind]} <Code wrap>{statementWords(statement)}</Code>
    </li>
  );
}

function Words({ kind, text }: Piece) {
  if (kind === "same") return text;
  if (kind === "new")
    return (
      <ins>
        <span className="vh"> [new:</span>
        {text}
        <span className="vh">]</span>
      </ins>
    );
  return (
    <del>
      <span className="vh"> [gone:</span>
      {text}
      <span className="vh">]</span>
    </del>
  );
}
