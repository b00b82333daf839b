import { cell, DataTable, TableHead } from "@/app/_ui/data-table";
import { isStep, steps } from "@/lib/casework/step";
import type { FindingDetail } from "@/lib/registry/finding-detail";
import { instantWords } from "./evidence";

const programSteps: Readonly<Record<string, string>> = {
  opened: "Opened",
  opened_again: "Opened again: the cause came back",
  raised: "Signal word raised",
  not_shown_any_more: "No longer shown by the readings",
};

function stepWords(step: string | null): string {
  if (step === null) return "Note";
  return isStep(step) ? steps[step].words : (programSteps[step] ?? step);
}

/** Everything that was done and said, the latest first. */
export function History({ detail }: { detail: FindingDetail }) {
  return (
    <DataTable caption="History, the latest first" cards top>
      <TableHead columns={["When", "Step", "What was said", "Who"]} />
      <tbody>
        {[...detail.history].reverse().map((note) => (
          <tr key={note.id}>
            <td className="nw mute">{instantWords(note.at, detail.timeZone)}</td>
            <td className="nw">
              <b>{stepWords(note.step)}</b>
            </td>
            <td className={cell.wide}>{note.text}</td>
            <td className="nw">{note.by}</td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
