import Link from "next/link";
import { DataTable } from "@/app/_ui/data-table";
import { tickClass } from "@/app/_ui/field";
import { TagChip } from "@/app/_ui/tag-chip";
import { gradeWords } from "@/lib/matching/candidate";
import type { IdenticalAppliance } from "@/lib/registry/review";
import { dayWords, standingWords } from "../../_parts/grade-words";
import { ChooseOpen } from "./choose-open";
import styles from "./review.module.css";

const isOpen = ({ candidate }: IdenticalAppliance) => candidate.standing === "undecided" || candidate.standing === "reopened";
const shownAtFirst = 12;

/** The appliances that are chosen at first: the one looked at, or all that are open. */
export function chosenAtFirst(identical: readonly IdenticalAppliance[], candidateId: string, allOpen: boolean): ReadonlySet<string> {
  const chosen = identical.filter(
    (item) => item.candidate.id === candidateId || (allOpen && isOpen(item) && item.candidate.grade !== "not_covered"),
  );
  return new Set(chosen.map(({ candidate }) => candidate.applianceId));
}

function stateOf({ candidate, decidedAt }: IdenticalAppliance): string {
  const grade = candidate.ask ? "the same question" : gradeWords[candidate.grade];
  if (decidedAt) return `${standingWords[candidate.standing]}, decided ${dayWords(decidedAt)}`;
  return candidate.standing === "reopened" ? `${grade}, decide again` : grade;
}

/** Which of the identical appliances the decision is for. */
export function IdenticalTable(props: {
  identical: readonly IdenticalAppliance[];
  candidateId: string;
  chosen: ReadonlySet<string>;
  showAll: boolean;
}) {
  const { identical, candidateId, chosen, showAll } = props;
  const first = identical.filter(({ candidate }) => chosen.has(candidate.applianceId));
  const rest = identical.filter(({ candidate }) => !chosen.has(candidate.applianceId));
  const rows = showAll ? [...first, ...rest] : [...first, ...rest].slice(0, Math.max(shownAtFirst, first.length));
  const here = `/recalls/review/${candidateId}`;
  return (
    <div>
      <div className={styles.head}>
        <h2>{identical.length === 1 ? "There is no identical one" : `For which of the ${identical.length} identical?`}</h2>
        {identical.length > 1 &&
          (rows.length === identical.length ? (
            <ChooseOpen />
          ) : (
            <Link className="small" href={`${here}?choose=open#decide`}>
              choose all undecided
            </Link>
          ))}
      </div>
      <DataTable caption="Identical appliances">
        <thead className="vh">
          <tr>
            {["Choose", "Tag", "Place", "Serial", "State"].map((name) => (
              <th scope="col" key={name}>
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((item) => (
            <Row
              key={item.candidate.id}
              item={item}
              isChosen={chosen.has(item.candidate.applianceId)}
              isHere={item.candidate.id === candidateId}
            />
          ))}
        </tbody>
      </DataTable>
      {rows.length < identical.length && (
        <p className="small soft">
          {identical.length - rows.length} more. <Link href={`${here}?all=1#decide`}>Show all {identical.length}</Link>
        </p>
      )}
    </div>
  );
}

function Row({ item, isChosen, isHere }: { item: IdenticalAppliance; isChosen: boolean; isHere: boolean }) {
  const { candidate, place } = item;
  const { id, tag, serial } = candidate.appliance;
  return (
    <tr className={styles.pick}>
      <td>
        <input
          className={tickClass}
          type="checkbox"
          data-open={isOpen(item) && candidate.grade !== "not_covered" ? "" : undefined}
          data-grade={candidate.grade}
          data-tag={tag}
          name="applianceIds"
          value={id}
          defaultChecked={isChosen}
          aria-label={`choose ${tag}`}
        />
      </td>
      <td>
        <TagChip tag={tag} href={isHere ? `/appliances/${id}` : `/recalls/review/${candidate.id}`} />
      </td>
      <td className={styles.place}>
        <b>{place.unit ?? "shared area"}</b> <span>{place.outlet ?? ""}</span>
      </td>
      <td className={serial ? styles.serial : "mute nw"}>{serial ?? "not read"}</td>
      <td className={`soft ${styles.state}`}>{stateOf(item)}</td>
    </tr>
  );
}
