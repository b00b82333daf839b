import Link from "next/link";
import { cell, DataTable, SortHead } from "@/app/_ui/data-table";
import { tickClass } from "@/app/_ui/field";
import { LimitBar } from "@/app/_ui/limit-bar";
import { Plate } from "@/app/_ui/plate";
import { asSignalWord, SignalWord } from "@/app/_ui/signal-word";
import { TagChip } from "@/app/_ui/tag-chip";
import type { ApplianceQuery } from "@/lib/registry/appliance-list";
import { receptacleWords } from "@/lib/registry/place-name";
import type { ListedAppliance } from "@/lib/store/appliance-list-queries";
import { sortedAs, sortHref } from "./address";
import styles from "./appliance-table.module.css";
import { ChooseAll } from "./choice";
import { plateOf, seenAgainstAllowed } from "./plate-of";
import { agoWords } from "./time-words";

/** The strip plates with one limit line down the whole column; on a phone a list led by the plate. */
export function ApplianceTable(props: { rows: readonly ListedAppliance[]; query: ApplianceQuery; now: Date; severalSites: boolean }) {
  const { rows, query, now, severalSites } = props;
  const head = (sort: NonNullable<ApplianceQuery["sort"]>) => ({ href: sortHref(query, sort), order: sortedAs(query, sort) });
  return (
    <div className={styles.list}>
      <DataTable caption="Appliances" cards>
        <thead>
          <tr>
            <th scope="col">
              <ChooseAll />
            </th>
            <SortHead label="Tag" {...head("tag")} />
            <SortHead label="Rating plate" {...head("plate")} />
            <th scope="col" className={styles.limHead}>
              Seen <span>allowed</span>
            </th>
            <SortHead label="%" num {...head("seen")} />
            <SortHead label="Where" {...head("where")} />
            <SortHead label="Finding" {...head("finding")} />
            <th scope="col">Recall</th>
            <SortHead label="Last seen" num {...head("last")} />
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <Row key={row.appliance.id} row={row} now={now} severalSites={severalSites} />
          ))}
        </tbody>
      </DataTable>
    </div>
  );
}

function Row({ row, now, severalSites }: { row: ListedAppliance; now: Date; severalSites: boolean }) {
  const { appliance, signal } = row;
  const href = `/appliances/${appliance.id}`;
  const word = signal === null ? null : asSignalWord(signal);
  const stands = seenAgainstAllowed(appliance);
  const share = stands.seen !== null && stands.allowed ? Math.round((stands.seen / stands.allowed) * 100) : null;
  return (
    <tr>
      <td>
        <input className={tickClass} type="checkbox" name="chosen" value={appliance.id} aria-label={`choose ${appliance.tag}`} />
      </td>
      <td className={styles.tag}>
        <TagChip tag={appliance.tag} href={href} />
      </td>
      <td className={`${cell.wide} ${styles.plate}`}>
        <Plate size="row" plate={plateOf(appliance)} href={href} />
      </td>
      <td className={`${cell.wide} ${styles.lim}`}>
        <LimitBar {...stands} size="stack" />
      </td>
      <td className={`${cell.num} ${cell.gone}`}>{share !== null && <b className={share > 100 ? "over" : styles.calm}>{share} %</b>}</td>
      <td className={styles.where}>
        <Where row={row} severalSites={severalSites} />
      </td>
      <td className={styles.signal}>
        {word && <SignalWord word={word} />}
        {appliance.state !== "in_use" && <span className={cell.second}>{appliance.state === "retired" ? "retired" : "out of use"}</span>}
      </td>
      <td className={styles.recall}>{row.candidate && <Candidate candidate={row.candidate} />}</td>
      <td className={`${cell.num} ${cell.gone}`}>{appliance.lastSeenAt && agoWords(appliance.lastSeenAt, now)}</td>
    </tr>
  );
}

function Where({ row, severalSites }: { row: ListedAppliance; severalSites: boolean }) {
  const { unit, outlet, site, appliance } = row;
  const plug = outlet && [outlet.name, receptacleWords(appliance.receptacle, outlet.receptacles)].filter(Boolean).join(" ");
  const second = [plug, severalSites ? site?.name : null].filter(Boolean).join(", ");
  return (
    <>
      <b>{unit ?? "shared area"}</b>
      {second !== "" && <span className={cell.second}>{second}</span>}
    </>
  );
}

const gradeWords: Readonly<Record<string, string>> = { covered: "Covered", likely: "Likely", check_label: "Check the label" };

function Candidate({ candidate }: { candidate: NonNullable<ListedAppliance["candidate"]> }) {
  return (
    <Link className={styles.candidate} href={`/recalls/review/${candidate.id}`}>
      {candidate.standing === "affected" ? "Affected" : (gradeWords[candidate.grade] ?? candidate.grade)}
      <span className={`${cell.second} nw`}>{candidate.number}</span>
    </Link>
  );
}
