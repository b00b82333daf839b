import type { ReactNode } from "react";
import { SignalBanner } from "./signal-banner";
import styles from "./small-parts.module.css";

/** The caution at the foot of every page. */
export function GeneralCautions() {
  return (
    <div className={styles.cautions}>
      <p>
        Results are screening aids, not an inspection certificate. Local codes, the authority having jurisdiction and a licensed electrician
        come first. No match found does not mean not recalled.
      </p>
    </div>
  );
}

/** What to do about an appliance that may burn or shock. Medical and life-safety equipment is never simply unplugged. */
export function StopUse({ children }: { children?: ReactNode }) {
  return (
    <SignalBanner word="DANGER">
      <p>
        <b>Stop using it, and unplug it if the plug is cool and dry.</b> If it smells, smokes or is too hot to touch, leave it: switch the
        circuit off at the panel, get out and call the emergency number.
      </p>
      <p>Medical or life-safety equipment: call the person who depends on it first. {children}</p>
    </SignalBanner>
  );
}

/** What to do about wiring: never a repair by the occupant. */
export function CallElectrician({ children }: { children?: ReactNode }) {
  return (
    <SignalBanner word="WARNING">
      <p>
        <b>Call a licensed electrician.</b> Do not reset a breaker again and again, and never fit a larger one.
      </p>
      <p>Local codes and the authority having jurisdiction come first. {children}</p>
    </SignalBanner>
  );
}
