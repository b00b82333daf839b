import Link from "next/link";
import type { CSSProperties } from "react";
import { SignalWord } from "@/app/_ui/signal-word";
import type { SiteView, UnitCell } from "@/lib/registry/place-building";
import styles from "./elevation.module.css";

const mostLines = 5;

/** The building as it stands: floors, units, a line for each circuit against its device at the one upright rule. */
export function Elevation({ view, openId }: { view: SiteView; openId: string | null }) {
  const widest = Math.max(1, ...view.floors.map((floor) => floor.units.length));
  const numbered = view.floors.some((floor) => floor.name !== null);
  const columns = numbered ? widest : Math.min(widest, 20);
  return (
    <section className={styles.elevation} aria-label="Elevation">
      <div className={styles.legend}>
        <span>
          <svg width="58" height="12" viewBox="0 0 58 12" aria-hidden="true">
            <path d="M0 8.5h58" stroke="var(--rule-2)" />
            <path d="M0 7h32" stroke="var(--ink-2)" strokeWidth="3" />
            <path d="M46.4 1v11" stroke="var(--ink)" strokeWidth="1.5" />
          </svg>
          each line is a circuit, its largest load in the last hour of readings against its device at the upright rule
        </span>
      </div>
      <div className={styles.scroll}>
        <div className={styles.house} style={{ "--columns": columns } as CSSProperties}>
          {view.floors.map((floor) => (
            <div className={styles.floor} key={floor.name ?? "rest"}>
              <span className={styles.number}>{floor.name}</span>
              <div className={styles.units}>
                {floor.units.map((unit) => (
                  <Cell key={unit.id} unit={unit} isOpen={unit.id === openId} />
                ))}
              </div>
            </div>
          ))}
          <div className={styles.ground} aria-hidden="true" />
        </div>
      </div>
    </section>
  );
}

const wordClass = { DANGER: styles.danger, WARNING: styles.warning, CAUTION: styles.caution, NOTICE: styles.notice } as const;

function cellWords(unit: UnitCell): string {
  const open = unit.word ? `${unit.word}: ${unit.sentence ?? ""}` : "nothing open";
  return `unit ${unit.name}, ${unit.appliances === 0 ? "no appliance, " : ""}${open}`;
}

function Cell({ unit, isOpen }: { unit: UnitCell; isOpen: boolean }) {
  const names = [
    styles.unit,
    unit.word ? wordClass[unit.word] : "",
    isOpen ? styles.open : "",
    unit.appliances === 0 ? styles.vacant : "",
  ].filter(Boolean);
  const lines = [...unit.circuits].sort((a, b) => (b.share ?? 0) - (a.share ?? 0)).slice(0, mostLines);
  return (
    <Link
      href={`/building/${unit.siteId}?unit=${unit.id}`}
      className={names.join(" ")}
      aria-label={cellWords(unit)}
      aria-current={isOpen ? "true" : undefined}
      scroll={false}
    >
      {unit.word && <SignalWord word={unit.word} />}
      <b>{unit.name}</b>
      {lines.length > 0 && (
        <span className={styles.lines}>
          {lines.map(({ circuit, share }) => (
            <i
              key={circuit.id}
              className={share !== null && share > 1 ? styles.over : undefined}
              style={{ "--r": Math.min(share ?? 0, 1.25) } as CSSProperties}
            />
          ))}
        </span>
      )}
    </Link>
  );
}
