import type { ReactNode } from "react";
import { Code } from "@/app/_ui/code";
import type { Reason } from "@/lib/matching/candidate";
import type { Coverage, SpanField } from "@/lib/notices/coverage";
import type { Notice } from "@/lib/notices/notice";
import styles from "./marked-notice.module.css";
import { type MarkedParagraph, type MarkKind, markLooks, markStatements, type Stretch, usedMarks } from "./marked-statements";

const markStyle: Readonly<Record<MarkKind, string | undefined>> = {
  model: styles.model,
  serial: styles.serial,
  date: styles.date,
  upc: styles.upc,
  not: styles.not,
  where: styles.where,
  unread: styles.unread,
};

interface Compared {
  readonly coverage: Coverage;
  readonly reasons?: readonly Reason[];
}

function Letter({ kind }: { kind: MarkKind }) {
  return (
    <b className={styles.letter} aria-hidden="true">
      {markLooks[kind].letter}
    </b>
  );
}

function Marked({ text, mark }: Stretch) {
  if (!mark) return text;
  const { words } = markLooks[mark.kind];
  return (
    <mark className={[styles.mark, markStyle[mark.kind], mark.agrees ? styles.agrees : ""].join(" ")}>
      {text}
      <Letter kind={mark.kind} />
      <span className="vh">
        ({words}
        {mark.agrees ? ", agrees with the appliance" : ""})
      </span>
    </mark>
  );
}

const mostReadings = 12;

function Reading({ kind, reads }: MarkedParagraph["readings"][number]) {
  const shown = reads.slice(0, mostReadings).join(", ");
  return (
    <p>
      <Letter kind={kind} /> {markLooks[kind].words}: <Code wrap>{shown.replaceAll("..", " to ")}</Code>
      {reads.length > mostReadings && ` and ${reads.length - mostReadings} more`}
    </p>
  );
}

function Paragraphs({ text, field, index, ...compared }: Compared & { text: string; field: SpanField; index?: number }) {
  const paragraphs = markStatements(text, { ...compared, field, ...(index === undefined ? {} : { index }) });
  return paragraphs.map(({ start, stretches, readings }) => (
    <div className={styles.paragraph} key={start}>
      <p className={styles.words}>
        {stretches.map((stretch) => (
          <Marked key={stretch.start} {...stretch} />
        ))}
      </p>
      <aside aria-label="How we read this paragraph">
        {readings.map((reading) => (
          <Reading key={reading.kind} {...reading} />
        ))}
      </aside>
    </div>
  ));
}

/** A column of the list, such as its models, with its name in our voice and its content in the publisher's. */
function Column({ name, children }: { name: string; children: ReactNode }) {
  return (
    <div className={styles.column}>
      <h3>{name}</h3>
      {children}
    </div>
  );
}

/** A notice in its own words, statements marked by kind, our reading beside each paragraph, and the legend. */
export function MarkedNotice({ notice, coverage, reasons }: { notice: Notice } & Compared) {
  const compared: Compared = { coverage, ...(reasons ? { reasons } : {}) };
  const { title, description, productNames, statedBrands, statedModels, statedSerials, upcs, hazard, remedy, contact } = notice;
  const made =
    notice.madeFrom === null && notice.madeTo === null ? null : `${notice.madeFrom ?? "any date"} to ${notice.madeTo ?? "any date"}`;
  return (
    <div className={styles.notice}>
      <div className={styles.title}>
        <Paragraphs text={title} field="title" {...compared} />
      </div>
      <Paragraphs text={description} field="description" {...compared} />
      {productNames.map((name, index) => (
        <Column name="Product" key={name}>
          <Paragraphs text={name} field="productNames" index={index} {...compared} />
        </Column>
      ))}
      {statedBrands.length > 0 && <Column name="Brand">{<p className={styles.words}>{statedBrands.join("; ")}</p>}</Column>}
      {statedModels !== null && (
        <Column name="Models">
          <Paragraphs text={statedModels} field="statedModels" {...compared} />
        </Column>
      )}
      {statedSerials !== null && (
        <Column name="Serial numbers">
          <Paragraphs text={statedSerials} field="statedSerials" {...compared} />
        </Column>
      )}
      {made !== null && <Column name="Made">{<p className={styles.words}>{made}</p>}</Column>}
      {upcs.length > 0 && <Column name="Product numbers (UPC)">{<p className={styles.words}>{upcs.join("; ")}</p>}</Column>}
      {hazard !== null && <Column name="Hazard">{<p className={styles.words}>{hazard}</p>}</Column>}
      {remedy !== null && <Column name="Remedy">{<p className={styles.words}>{remedy}</p>}</Column>}
      {contact !== null && <Column name="Contact">{<p className={styles.words}>{contact}</p>}</Column>}
      <Legend kinds={usedMarks(coverage)} compared={reasons !== undefined} />
    </div>
  );
}

function Legend({ kinds, compared }: { kinds: readonly MarkKind[]; compared: boolean }) {
  if (kinds.length === 0) return <p className={styles.legend}>Nothing in it could be read as a model, serial, date or product number.</p>;
  return (
    <p className={styles.legend}>
      <span>Marked by us:</span>
      {kinds.map((kind) => (
        <span key={kind}>
          <span className={`${styles.mark} ${markStyle[kind]}`}>{markLooks[kind].words}</span>
          <Letter kind={kind} />
        </span>
      ))}
      {compared && (
        <span>
          <span className={styles.agrees}>tinted</span> agrees with the appliance
        </span>
      )}
    </p>
  );
}
