import Link from "next/link";
import { figures } from "@/app/_ui/account";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { proofOutcomeSentences, proofOutcomes, proofOutcomeWords } from "@/lib/matching/negative-proof";
import type { NegativeProof, ProofQuery } from "@/lib/registry/negative-proof";
import { proofHref } from "./proof-words";

/** How many appliances came to what; with a query each leads to them. The rows add up to the appliances compared. */
export function CountTable({ proof: { counts, rows, retired }, query }: { proof: NegativeProof; query?: ProofQuery }) {
  return (
    <DataTable caption="How many appliances came to what" cards>
      <TableHead columns={["Came to", figureColumn("Appliances"), "What it means"]} />
      <tbody>
        {proofOutcomes.map((outcome) => (
          <tr key={outcome}>
            <th scope="row">
              {query && counts[outcome] > 0 ? (
                <Link href={`${proofHref(query, { outcome })}#appliances`}>{proofOutcomeWords[outcome]}</Link>
              ) : (
                proofOutcomeWords[outcome]
              )}
            </th>
            <td className={cell.num} data-label="appliances">
              {figures(counts[outcome])}
            </td>
            <td className={cell.wide}>{proofOutcomeSentences[outcome]}</td>
          </tr>
        ))}
        <tr>
          <th scope="row">all compared</th>
          <td className={cell.num} data-label="appliances">
            <b>{figures(rows.length)}</b>
          </td>
          <td className={cell.wide}>
            {retired > 0 && `${figures(retired)} retired ${retired === 1 ? "appliance is" : "appliances are"} no longer compared.`}
          </td>
        </tr>
      </tbody>
    </DataTable>
  );
}
