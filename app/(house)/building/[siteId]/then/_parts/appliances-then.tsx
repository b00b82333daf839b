import { figures } from "@/app/_ui/account";
import { cell, DataTable, TableHead } from "@/app/_ui/data-table";
import { Pager } from "@/app/_ui/pager";
import { Plate } from "@/app/_ui/plate";
import { TagChip } from "@/app/_ui/tag-chip";
import { stateWords } from "@/lib/registry/appliance-state";
import type { ApplianceThen } from "@/lib/registry/as-of-fold";
import { appliancesAPage, type ThenNames, whereThen } from "@/lib/registry/site-then";
import { plateOf } from "../../../../appliances/_parts/plate-of";
import { dayWords } from "../../../../appliances/_parts/time-words";
import recalls from "../../../../recalls/_parts/recalls.module.css";
import { thenHref } from "./address";
import { type Shown, TableSection } from "./table-section";

/** The appliances of the site on the day, led by the plate as it was known. */
export function AppliancesThen(shown: Shown) {
  const { page, known, query } = shown;
  const pages = Math.max(1, Math.ceil(known.found.length / appliancesAPage));
  const at = Math.min(query.page ?? 1, pages);
  const rows = known.found.slice((at - 1) * appliancesAPage, at * appliancesAPage);
  return (
    <TableSection
      {...shown}
      table="appliances"
      head="Appliances"
      count={known.found.length}
      empty="None was recorded here then, or none matches."
    >
      <DataTable caption="Appliances as they were known" cards>
        <TableHead columns={["Appliance", "State", "Where", "Recorded"]} />
        <tbody>
          {rows.map((row) => (
            <Row key={row.id} row={row} names={known.names} timeZone={page.site.timeZone} />
          ))}
        </tbody>
      </DataTable>
      <Pager page={at} pages={pages} href={(to) => `${thenHref(page.site.id, query, { page: to })}#appliances`}>
        {figures(known.found.length)} in all
      </Pager>
    </TableSection>
  );
}

function Row({ row, names, timeZone }: { row: ApplianceThen; names: ThenNames; timeZone: string | null }) {
  const href = `/appliances/${row.id}`;
  return (
    <tr>
      <td className={cell.wide}>
        <Plate size="row" plate={plateOf({ ...row, notes: null })} href={href} />
        <span className={recalls.under}>
          <TagChip tag={row.tag} href={href} />
        </span>
        {!row.isCertain && <span className={cell.second}>may be later facts: changed since without a before in the record</span>}
      </td>
      <td data-label="state">{stateWords[row.state]}</td>
      <td data-label="where">
        {whereThen(row, names) ?? "at the site, no more is known"}
        {!row.isSeen && <span className={cell.second}>last known place, not seen there then</span>}
      </td>
      <td className="nw" data-label="recorded">
        {dayWords(row.createdAt, timeZone)}
      </td>
    </tr>
  );
}
