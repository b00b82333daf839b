import { Fragment, type ReactNode } from "react";
import styles from "./small-parts.module.css";

/** Facts in two columns: the word, then what is known. Null entries are left out. */
export function DefinitionList({ entries }: { entries: readonly (readonly [term: string, value: ReactNode] | null)[] }) {
  return (
    <dl className={styles.facts}>
      {entries.map(
        (entry) =>
          entry && (
            <Fragment key={entry[0]}>
              <dt>{entry[0]}</dt>
              <dd>{entry[1]}</dd>
            </Fragment>
          ),
      )}
    </dl>
  );
}
