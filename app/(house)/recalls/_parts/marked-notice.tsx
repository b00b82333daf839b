import Link from "next/link";
import type { ReactNode } from "react";
import { Code } from "@/app/_ui/code";
import type { Reason } from "@/lib/matching/candidate";
import type { Coverage, SpanField } from "@/lib/notices/coverage";
import type { Notice } from "@/lib/notices/notice";
import { MarkPath } from "./mark-path";
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

/** Where words of a notice stand: field, place in a list field, and bounds. */
export interface WordsAt {
  readonly field: SpanField;
  readonly index: number;
  readonly start: number;
  readonly end: number;
}

interface Compared {
  readonly coverage: Coverage;
  readonly reasons?: readonly Reason[];
  /** Where the words of a mark are corrected; absent where they are only read. */
  readonly correctHref?: (words: WordsAt) => string;
}

function Letter({ kind }: { kind: MarkKind }) {
  return (
    <b className={styles.letter} aria-hidden="true">
      {markLooks[kind].letter}
    </b>
  );
}

/** What a mark says to those who do not see it: its kind, how it is read, and whether the appliance agrees. */
function markWords({ kind, reads, agrees }: NonNullable<Stretch["mark"]>, text: string): string {
  const read =
    kind === "unread" ? "a person must read this" : kind === "where" || reads === text ? "" : `read as ${reads.replaceAll("..", " to ")}`;
  return [markLooks[kind].words, read, agrees ? "agrees with the appliance" : ""].filter((part) => part !== "").join(", ");
}

function Marked({ text, mark, href }: Stretch & { href: string | null }) {
  if (!mark) return text;
  const inside = (
    <>
      {text}
      <Letter kind={mark.kind} />
      <span className="vh"> ({markWords(mark, text)})</span>
    </>
  );
  const className = [styles.mark, markStyle[mark.kind], mark.agrees ? styles.agrees : ""].join(" ");
  return (
    <mark className={className}>
      {href === null ? (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the keyboard goes from mark to mark, so that each can be heard by itself
        <span data-mark="" tabIndex={0} className={styles.stop}>
          {inside}
        </span>
      ) : (
        <Link data-mark="" href={href} scroll={false} className={styles.stop} title={`${markLooks[mark.kind].words}: correct it`}>
          {inside}
        </Link>
      )}
    </mark>
  );
}

const mostReadings = 12;

function Reading({ kind, reads }: MarkedParagraph["readings"][number]) {
  const shown = reads.slice(0, mostReadings).join(", ");
  if (kind === "unread")
    return (
      <p>
        <Letter kind={kind} /> {markLooks[kind].words}: a person must read this
      </p>
    );
  return (
    <p>
      <Letter kind={kind} /> {markLooks[kind].words}: <Code wrap>{shown.replaceAll("..", " to ")}</Code>
      {reads.length > mostReadings && ` and ${reads.length - mostReadings} more`}
    </p>
  );
}

function Paragraphs({ text, field, index, ...compared }: Compared & { text: string; field: SpanField; index?: number }) {
  const hrefOf = ({ mark }: Stretch) =>
    mark ? (compared.correctHref?.({ field, index: index ?? 0, start: mark.from, end: mark.to }) ?? null) : null;
  const paragraphs = markStatements(text, { ...compared, field, ...(index === undefined ? {} : { index }) });
  return paragraphs.map(({ start, stretches, readings }) => (
    <div className={styles.paragraph} key={start}>
      <p className={styles.words}>
        {stretches.map((stretch) => (
          <Marked key={stretch.start} {...stretch} href={hrefOf(stretch)} />
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
export function MarkedNotice({ notice, ...compared }: { notice: Notice } & Compared) {
  const { coverage, reasons, correctHref } = compared;
  const { title, description, productNames, statedBrands, statedModels, statedSerials, upcs, hazard, remedy, contact } = notice;
  const made =
    notice.madeFrom === null && notice.madeTo === null ? null : `${notice.madeFrom ?? "any date"} to ${notice.madeTo ?? "any date"}`;
  const words = (
    <>
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
    </>
  );
  const marks = countMarks(notice, coverage);
  return (
    <div className={styles.notice}>
      {marks === 0 ? (
        words
      ) : (
        <MarkPath marks={marks} mayCorrect={correctHref !== undefined}>
          {words}
        </MarkPath>
      )}
      <Legend kinds={usedMarks(coverage)} compared={reasons !== undefined} />
    </div>
  );
}

/** How many marks the texts shown here carry. */
function countMarks(notice: Notice, coverage: Coverage): number {
  const { title, description, productNames, statedModels, statedSerials } = notice;
  const shown: [string | null, SpanField, number?][] = [
    [title, "title"],
    [description, "description"],
    ...productNames.map((name, index): [string, SpanField, number] => [name, "productNames", index]),
    [statedModels, "statedModels"],
    [statedSerials, "statedSerials"],
  ];
  const inText = ([text, field, index]: (typeof shown)[number]) =>
    text === null ? [] : markStatements(text, { coverage, field, ...(index === undefined ? {} : { index }) });
  return shown.flatMap(inText).reduce((sum, { stretches }) => sum + stretches.filter(({ mark }) => mark !== null).length, 0);
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
