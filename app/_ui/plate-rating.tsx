import type { RatingCells } from "@/lib/electrical/rating-words";
import styles from "./plate.module.css";

const units = [
  { key: "volts", unit: "V~" },
  { key: "hertz", unit: "Hz" },
  { key: "watts", unit: "W" },
  { key: "amps", unit: "A" },
] as const;

/** The four ratings in their columns; one that was not read is a centred dot, never a zero. */
export function PlateRating({ cells }: { cells: RatingCells }) {
  return (
    <div className={styles.rate}>
      {units.map(({ key, unit }) => {
        const value = cells[key];
        if (value === null) return <Unread key={key} unit={unit} />;
        return (
          <span key={key} className={value.length > 5 ? styles.long : undefined}>
            {value}
            <small>{unit}</small>
          </span>
        );
      })}
    </div>
  );
}

function Unread({ unit }: { unit: string }) {
  return (
    <span className={styles.none}>
      <span aria-hidden="true">·</span>
      <span className="vh">{unit} not read</span>
    </span>
  );
}

/** The symbol of class II: a square in a square. */
export function ClassTwo() {
  return (
    <svg className={styles.classTwo} viewBox="0 0 20 20" role="img" aria-label="class II">
      <path d="M1.5 1.5h17v17h-17zM6 6h8v8H6z" />
    </svg>
  );
}
