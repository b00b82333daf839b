import { figures } from "@/app/_ui/account";
import { Code } from "@/app/_ui/code";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import type { ShownPack, SitePacks } from "@/lib/jobs/site-packs";
import { dayWords, timeWords } from "../../../appliances/_parts/time-words";

const columns = ["Day", "Made", "Document", "Tables", figureColumn("Rows"), "Kept until"];

/** The packs that are kept, with their files. */
export function PackTable({ view: { site, packs } }: { view: SitePacks }) {
  return (
    <DataTable caption="Packs kept" cards>
      <TableHead columns={columns} />
      <tbody>
        {packs.map((pack) => (
          <tr key={pack.id}>
            <td className={cell.wide}>
              <b className="num">{pack.day}</b>
            </td>
            <td data-label="Made" className={cell.wide}>
              {timeWords(pack.madeAt, site.timeZone)}
              <span className={cell.second}>{pack.byName ?? "somebody who has left"}</span>
            </td>
            <td data-label="Document" className={cell.wide}>
              <PackFile pack={pack} file="document" words={`PDF, ${figures(pack.pages)} ${pack.pages === 1 ? "page" : "pages"}`} />
            </td>
            <td data-label="Tables" className={cell.wide}>
              <PackFile pack={pack} file="tables" words="CSV in a ZIP" />
            </td>
            <td data-label="Rows" className={cell.num}>
              {figures(pack.rows)}
            </td>
            <td data-label="Kept until">{dayWords(pack.keptUntil, site.timeZone)}</td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}

function PackFile({ pack, file, words }: { pack: ShownPack; file: "document" | "tables"; words: string }) {
  const hash = file === "document" ? pack.documentHash : pack.tablesHash;
  return (
    <>
      <a href={`/building/${pack.siteId}/pack/file?day=${pack.day}&file=${file}`} download>
        {words}
        <span className="vh"> of {pack.day}</span>
      </a>
      <span className={cell.second} title={`SHA-256 ${hash}`}>
        SHA-256 <Code>{hash.slice(0, 12)}</Code>
      </span>
    </>
  );
}
