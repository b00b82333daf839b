import Link from "next/link";
import { figures } from "@/app/_ui/account";
import { Code } from "@/app/_ui/code";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import type { NegativeProof } from "@/lib/registry/negative-proof";
import type { ProofEvent } from "@/lib/registry/proof-lists";
import { dayWords } from "../../_parts/grade-words";
import { outcomeWords } from "../../lists/_parts/source-words";
import { zonedWords } from "./proof-words";

/** The version of each list that the appliances were compared with. */
export function ListTable({ proof: { lists, site } }: { proof: NegativeProof }) {
  return (
    <DataTable caption="The versions of the lists that were compared" cards top>
      <TableHead columns={["List", "Version", "Loaded", "Newest notice", ...["Notices", "Not read"].map(figureColumn)]} />
      <tbody>
        {lists.map(({ load, loads, firstLoadedAt, setAside, newest, look, notices }) => (
          <tr key={load.id}>
            <td className={cell.wide}>
              {load.source}
              <span className={cell.second}>{load.fileName}</span>
            </td>
            <td className={cell.wide}>
              <Code wrap>{load.fileHash}</Code>
              <span className={cell.second}>SHA-256 of the file, {load.format.replaceAll("-", " ")}</span>
            </td>
            <td className={cell.wide} data-label="loaded">
              {zonedWords(load.loadedAt, site.timeZone)}
              <span className={cell.second}>
                {loads === 1 ? "the only version" : `${figures(loads)} versions since ${dayWords(firstLoadedAt)}`}
                {look && `; its address was last looked at on ${zonedWords(look.at, site.timeZone)}: ${outcomeWords[look.outcome]}`}
              </span>
            </td>
            <td className="nw" data-label="newest notice">
              {newest === null ? "not dated" : dayWords(newest)}
            </td>
            <td className={cell.num} data-label="notices">
              {figures(load.records)}
              {notices > load.records && <span className={cell.second}>{figures(notices)} with earlier ones</span>}
            </td>
            <td className={cell.num} data-label="not read">
              {setAside === 0 ? "0" : <Aside runId={load.importRunId} count={setAside} />}
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}

function Aside({ runId, count }: { runId: string | null; count: number }) {
  return runId === null ? figures(count) : <Link href={`/bring-in/${runId}`}>{figures(count)}</Link>;
}

/** Which version was loaded or looked at when, the latest first. */
export function EventTable({ events, timeZone }: { events: readonly ProofEvent[]; timeZone: string | null }) {
  return (
    <DataTable caption="What was loaded, looked at and compared when, the latest first" cards top>
      <TableHead columns={["When", "List", "What", "Version", figureColumn("Notices")]} />
      <tbody>
        {events.map((event) => (
          <tr key={`${event.at.getTime()} ${event.list} ${event.what}`}>
            <td className="nw">{zonedWords(event.at, timeZone)}</td>
            <td data-label="list">{event.list ?? "–"}</td>
            <td className={cell.wide}>{event.runId ? <Link href={`/bring-in/${event.runId}`}>{event.what}</Link> : event.what}</td>
            <td data-label="version">{event.hash ? <Code>{event.hash.slice(0, 16)}</Code> : "–"}</td>
            <td className={cell.num} data-label="notices">
              {event.notices === null ? "–" : figures(event.notices)}
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
