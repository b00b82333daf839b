import { Code } from "@/app/_ui/code";
import { cell, DataTable, TableHead } from "@/app/_ui/data-table";
import { PlainSection } from "@/app/_ui/side-section";
import { type Ask, gradeWords } from "@/lib/matching/candidate";
import type { ShownAnswer } from "@/lib/registry/label-answers";
import { dayWords } from "../../_parts/grade-words";
import { ConfirmAnswer } from "./confirm-answer";

const fieldWords: Readonly<Record<Ask["field"], string>> = {
  brand: "brand",
  model: "model",
  serial: "serial number",
  dateCode: "date code",
  made: "made",
  product: "kind",
  upc: "product number",
};
const wordsOf = (field: string) => fieldWords[field as Ask["field"]] ?? field;

function ledTo({ written, gradeBefore, gradeAfter }: ShownAnswer): string {
  if (!written) return "kept, not written: it would clear a notice, which an occupant's word alone does not";
  const after = gradeAfter === null ? "no longer raised" : gradeWords[gradeAfter];
  return gradeBefore === gradeAfter ? `still ${after}` : `${gradeWords[gradeBefore]}, then ${after}`;
}

/** What was read off the appliance so far: what, from whom, when, and what it led to. */
export function Answers({ answers, candidateId, mayAnswer }: { answers: readonly ShownAnswer[]; candidateId: string; mayAnswer: boolean }) {
  return (
    <PlainSection head="Read off the label so far" id="answers">
      <DataTable caption="Read off the label so far" cards>
        <TableHead columns={["What", "It says", "From whom", "It led to"]} />
        <tbody>
          {answers.map((answer) => (
            <tr key={answer.id}>
              <td>{wordsOf(answer.field)}</td>
              <td className={cell.wide}>
                <Code wrap>{answer.value}</Code>
              </td>
              <td className={cell.wide}>
                {answer.source === "occupant" ? `the occupant, noted by ${answer.by}` : answer.by}
                <span className={cell.second}>{dayWords(answer.at)}</span>
              </td>
              <td className={cell.wide}>
                {ledTo(answer)}
                {!answer.written && mayAnswer && (
                  <ConfirmAnswer candidateId={candidateId} field={answer.field} value={answer.value} words={wordsOf(answer.field)} />
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </DataTable>
    </PlainSection>
  );
}
