import type { Metadata } from "next";
import { headers } from "next/headers";
import Link from "next/link";
import { forPage, requirePage } from "@/app/_server/page";
import { SignalWord } from "@/app/_ui/signal-word";
import { publicUrl } from "@/lib/access/public-url";
import { asLanguage, dayIn, type OccupantLanguage, occupantLanguages, occupantTexts, speaker } from "@/lib/casework/occupant-texts";
import { type DoNotUseSheet, doNotUseSheet } from "@/lib/documents/do-not-use-sheet";
import styles from "./sheet.module.css";

interface Props {
  readonly params: Promise<{ id: string }>;
  readonly searchParams: Promise<Record<string, string | string[]>>;
}

export const metadata: Metadata = { title: "DO NOT USE sheet" };

/** The address in a printed code: the public one, else the one this browser came to. */
async function ownOrigin(): Promise<string> {
  const configured = publicUrl();
  if (configured !== null) return configured;
  const asked = await headers();
  const protocol = asked.get("x-forwarded-proto") === "https" ? "https" : "http";
  return `${protocol}://${asked.get("host") ?? "localhost"}`;
}

export default async function SheetPage({ params, searchParams }: Props) {
  const { db, actor, now } = await requirePage("see appliances");
  const { id } = await params;
  const language = asLanguage(String((await searchParams)["lang"] ?? "en"));
  const sheet = await forPage(doNotUseSheet(db, actor, { id, origin: await ownOrigin(), now }));
  return (
    <>
      <nav className={`${styles.ways} noprint`} aria-label="Sheet">
        <p>
          Print this on A5 or A4 and fix it to the appliance or its plug. <Link href={`/appliances/${id}`}>Back to the appliance</Link>
        </p>
        <p>
          {occupantLanguages.map((other) => (
            <Link key={other} href={`?lang=${other}`} lang={other} aria-current={other === language ? "page" : undefined}>
              {occupantTexts[other].language_name}
            </Link>
          ))}
        </p>
        {!sheet.isOut && (
          <p role="alert">
            <b>This appliance is not recorded as out of use.</b> Record that first, or the sheet and the registry contradict each other.
          </p>
        )}
        {!sheet.contact && <p>No contact is stated for this site: the sheet names nobody to call.</p>}
      </nav>
      <Sheet sheet={sheet} language={language} />
    </>
  );
}

function Sheet({ sheet, language }: { sheet: DoNotUseSheet; language: OccupantLanguage }) {
  const say = speaker(language);
  const { tag, since, timeZone, contact, address, code } = sheet;
  return (
    <article className={styles.sheet} lang={language}>
      <div className={styles.word}>
        <SignalWord word="DANGER" text={say("word_DANGER")} />
      </div>
      <h1 className={styles.title}>{say("sheet_title")}</h1>
      <p className={styles.words}>
        {say("sheet_words")} {say("sheet_keep")}
      </p>
      <div className={styles.foot}>
        <div>
          <p className={styles.tag}>{tag}</p>
          <p>{since ? say("sheet_since", { date: dayIn(language, since, timeZone) }) : say("sheet_since_unknown")}</p>
          <p>
            {say("sheet_call")}: {contact ? `${contact.name}, ${contact.phone}` : say("call_nobody")}
          </p>
        </div>
        <div className={styles.code}>
          {/* biome-ignore lint/performance/noImgElement: a drawing made here, without a file. */}
          <img src={`data:image/svg+xml,${encodeURIComponent(code)}`} alt={address} />
          <p>{say("sheet_scan")}</p>
        </div>
      </div>
    </article>
  );
}
