import Link from "next/link";
import type { ReactNode } from "react";
import styles from "./plate.module.css";
import { isClassTwo, type PlateFacts } from "./plate-facts";
import { ClassTwo, PlateRating } from "./plate-rating";

/** An appliance is its plate, never a bare name. `row` is one strip, `card` has the serial, `hero` is the plate itself. */
export function Plate({ size, plate, href }: { size: "row" | "card" | "hero"; plate: PlateFacts; href?: string }) {
  if (size === "hero") return <HeroPlate plate={plate} />;
  return size === "card" ? <CardPlate plate={plate} href={href} /> : <RowPlate plate={plate} href={href} />;
}

function Identity({ plate, href }: { plate: PlateFacts; href?: string | undefined }) {
  const inside = (
    <>
      <b className={plate.maker ? styles.maker : styles.unread}>{plate.maker ?? "maker not read"}</b>
      <span className={plate.model ? styles.model : styles.unread}>{plate.model ?? "model not read"}</span>
      {isClassTwo(plate.protectionClass) && <ClassTwo />}
    </>
  );
  return href ? (
    <Link className={styles.id} href={href}>
      {inside}
    </Link>
  ) : (
    <div className={styles.id}>{inside}</div>
  );
}

function RowPlate({ plate, href }: { plate: PlateFacts; href?: string | undefined }) {
  return (
    <div className={styles.fold}>
      <div className={`${styles.plate} ${styles.row}`}>
        <Identity plate={plate} href={href} />
        <PlateRating cells={plate.cells} />
      </div>
    </div>
  );
}

function CardPlate({ plate, href }: { plate: PlateFacts; href?: string | undefined }) {
  return (
    <div className={`${styles.plate} ${styles.card}`}>
      <Identity plate={plate} href={href} />
      <PlateRating cells={plate.cells} />
      <div className={styles.sub}>
        <span>
          S/N {plate.serial ? <span className={styles.serial}>{plate.serial}</span> : <span className={styles.unread}>not read</span>}
        </span>
        {plate.dateCode && <span>Date code {plate.dateCode}</span>}
      </div>
    </div>
  );
}

function Fact({ label, value }: { label: string; value: string | null | undefined }): ReactNode {
  const long = (value?.length ?? 0) > 16 ? styles.small : undefined;
  return (
    <div>
      <dt>{label}</dt>
      <dd className={long}>{value ?? <span className={styles.unread}>not read</span>}</dd>
    </div>
  );
}

function HeroPlate({ plate }: { plate: PlateFacts }) {
  return (
    <div className={`${styles.plate} ${styles.hero}`}>
      {["a", "b", "c", "d"].map((corner) => (
        <i key={corner} className={styles.rivet} />
      ))}
      <div className={styles.top}>
        <div>
          <b className={styles.maker}>{plate.maker ?? <span className={styles.unread}>maker not read</span>}</b>
          {plate.category && <div className={styles.kind}>{plate.category}</div>}
        </div>
        <div className={styles.marks}>{isClassTwo(plate.protectionClass) && <ClassTwo />}</div>
      </div>
      <dl className={styles.facts}>
        <Fact label="Model" value={plate.model} />
        <Fact label="Serial no." value={plate.serial} />
        <Fact label="Date code" value={plate.dateCode} />
      </dl>
      <PlateRating cells={plate.cells} />
      {plate.notes && <p className={styles.print}>{plate.notes}</p>}
    </div>
  );
}
