import { Code } from "@/app/_ui/code";
import { cell, DataTable, TableHead } from "@/app/_ui/data-table";
import { labelGapWords, proofOutcomes, proofOutcomeWords } from "@/lib/matching/negative-proof";
import type { ProofRow } from "@/lib/registry/negative-proof";

/** Every appliance in one line each, what is worst first, for paper. */
export function PrintedRows({ rows }: { rows: readonly ProofRow[] }) {
  const ordered = [...rows].sort((a, b) => proofOutcomes.indexOf(a.outcome) - proofOutcomes.indexOf(b.outcome));
  return (
    <DataTable caption="Appliances and what came of comparing them" cards>
      <TableHead columns={["Tag", "Maker", "Model", "Serial", "Where", "Came to", "Why, or which notices"]} />
      <tbody>
        {ordered.map(({ appliance, where, outcome, gaps, pairs }) => (
          <tr key={appliance.id}>
            <td>
              <Code>{appliance.tag}</Code>
            </td>
            <td data-label="maker">{appliance.brand ?? "not read"}</td>
            <td data-label="model">{appliance.model ?? "not read"}</td>
            <td data-label="serial">{appliance.serial ?? "not read"}</td>
            <td data-label="where">{where ?? "–"}</td>
            <td data-label="came to">{proofOutcomeWords[outcome]}</td>
            <td className={cell.wide}>
              {[...gaps.map((gap) => labelGapWords[gap]), pairs.map(({ notice }) => notice.number).join(", ")].join(" ")}
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
