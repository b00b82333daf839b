import { DefinitionList } from "@/app/_ui/definition-list";
import type { FindingDetail } from "@/lib/registry/finding-detail";
import styles from "./finding.module.css";

/** An instant in the site's zone, such as `Mon 23 Nov 2026, 18:42`. */
export function instantWords(at: Date, timeZone: string): string {
  const words = {
    weekday: "short",
    day: "numeric",
    month: "short",
    year: "numeric",
    hour: "2-digit",
    minute: "2-digit",
    timeZone,
  } as const;
  return new Intl.DateTimeFormat("en-GB", words).format(at);
}

/** The numbers and the reasons; numbers in a column, units always there. */
export function Evidence({ detail }: { detail: FindingDetail }) {
  const { figures, reasons, fromAt, toAt } = detail.evidence;
  if (figures.length + reasons.length === 0) return <p>A person saw it; what was seen stands in the history.</p>;
  const lately =
    fromAt && toAt
      ? `Last from ${instantWords(new Date(fromAt), detail.timeZone)} to ${instantWords(new Date(toAt), detail.timeZone)}.`
      : null;
  return (
    <>
      {figures.length > 0 && <DefinitionList entries={figures.map(({ name, value }) => [name, <b key={name}>{value}</b>])} />}
      {lately && <p className={styles.note}>{lately}</p>}
      <ul className={styles.reasons}>
        {reasons.map((reason) => (
          <li key={reason}>{reason}</li>
        ))}
      </ul>
    </>
  );
}
