import { LimitBar } from "@/app/_ui/limit-bar";
import { Plate } from "@/app/_ui/plate";
import type { ApplianceView } from "@/lib/registry/appliance-view";
import { plateOf } from "../_parts/plate-of";
import styles from "./appliance.module.css";

/** The plate, what was seen against what it allows, how that limit came about, and where the plate contradicts itself. */
export function HeroPlate({ view }: { view: ApplianceView }) {
  const { appliance, rated, allowed, contradictions } = view;
  const inAmps = allowed.watts === null && allowed.amps !== null;
  const bar = inAmps
    ? { seen: appliance.seenAmps, allowed: allowed.amps, rated: rated.amps, unit: "A" as const }
    : { seen: appliance.seenWatts, allowed: allowed.watts, rated: rated.watts, unit: "W" as const };
  return (
    <>
      <Plate size="hero" plate={plateOf(appliance)} />
      <LimitBar size="hero" {...bar} />
      <p className="small soft">{allowed.rule}</p>
      {contradictions.length > 0 && (
        <div className={styles.contradiction} role="note">
          <b>The plate contradicts itself.</b>
          <ul>
            {contradictions.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
          <p>It is kept as it was read: read the plate once more, on the appliance.</p>
        </div>
      )}
      {appliance.labelText && (
        <details className={styles.text}>
          <summary>The plate as read</summary>
          <pre>{appliance.labelText}</pre>
        </details>
      )}
    </>
  );
}
