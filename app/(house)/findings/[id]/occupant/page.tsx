import type { Metadata } from "next";
import Link from "next/link";
import { forPage, requirePage } from "@/app/_server/page";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { LetterPart } from "@/app/_ui/occupant-sheet";
import { PageHead } from "@/app/_ui/page-head";
import { PlainSection } from "@/app/_ui/side-section";
import { mayDo } from "@/lib/access/permissions";
import { asLanguage, speaker } from "@/lib/casework/occupant-texts";
import { composeLetter, type Letter } from "@/lib/documents/occupant-letter";
import { type NoticeGround, noticeGround } from "@/lib/registry/occupant-notice";
import { ownTexts, type Tenancy } from "@/lib/store/occupant-queries";
import { tell } from "./actions";
import styles from "./occupant.module.css";
import { PrintLink } from "./print-link";
import { SentList } from "./sent-list";

interface Props {
  readonly params: Promise<{ id: string }>;
  readonly searchParams: Promise<Record<string, string | string[]>>;
}

export const metadata: Metadata = { title: "Tell the occupant" };

export default async function TellPage({ params, searchParams }: Props) {
  const { db, actor, now } = await requirePage("tell occupants");
  const { id } = await params;
  const ground = await forPage(noticeGround(db, actor, { findingId: id, now }));
  const asked = (await searchParams)["occupant"];
  const chosen = ground.tenancies.find((tenancy) => tenancy.id === asked) ?? ground.tenancies[0] ?? null;
  const language = asLanguage(chosen?.language);
  const own = await ownTexts(db, actor.organisationId, language);
  const letter = composeLetter({ facts: ground, language, name: chosen?.name ?? "", own });
  const { siteId } = ground.shown.finding;
  const mayEdit = mayDo(actor, "edit occupants", siteId);
  return (
    <>
      <div className="noprint">
        <PageHead
          title="Tell the occupant"
          lead={ground.shown.finding.sentence}
          crumbs={[{ label: "Findings", href: "/findings" }, { label: "finding", href: `/findings/${id}` }, { label: "occupant" }]}
        />
        <PlainSection head="Sent so far">
          <SentList sent={ground.sent} />
        </PlainSection>
        <Choice ground={ground} chosen={chosen} mayEdit={mayEdit} />
      </div>
      <LetterView letter={letter} ground={ground} chosen={chosen} />
      {mayDo(actor, "edit occupant texts") && (
        <p className="noprint small">
          <Link href={`/tenancies/texts?language=${language}`}>Change the words of the notice</Link>
        </p>
      )}
    </>
  );
}

interface Chosen {
  readonly ground: NoticeGround;
  readonly chosen: Tenancy | null;
}

/** Who is told, and by which way. */
function Choice({ ground, chosen, mayEdit }: Chosen & { mayEdit: boolean }) {
  const { finding, place } = ground.shown;
  const tenancies = `/building/${finding.siteId}/tenancies`;
  if (!chosen)
    return (
      <PlainSection head="To whom">
        <p>
          {place.unit === null
            ? "It stands in a shared area: nobody lives with it alone. Put the DO NOT USE sheet on it."
            : `Nobody is entered as living in unit ${place.unit}. The notice can be read below; a link is made for an entered occupant.`}
        </p>
        <Acts>{mayEdit && <ButtonLink href={tenancies}>Occupants of this site</ButtonLink>}</Acts>
      </PlainSection>
    );
  return (
    <PlainSection head="To whom">
      <p>
        {ground.tenancies.map(({ id, name }, at) => (
          <span key={id}>
            {at > 0 && ", "}
            {id === chosen.id ? <b>{name ?? "an occupant"}</b> : <Link href={`?occupant=${id}`}>{name ?? "an occupant"}</Link>}
          </span>
        ))}
        {mayEdit && (
          <>
            {" "}
            (<Link href={tenancies}>occupants of this site</Link>)
          </>
        )}
      </p>
      {ground.mayTell && chosen.email && (
        <ActionForm action={tell} done="Queued. What became of it stands above.">
          <input type="hidden" name="findingId" value={finding.id} />
          <input type="hidden" name="version" value={finding.version} />
          <input type="hidden" name="tenancyId" value={chosen.id} />
          <input type="hidden" name="by" value="mail" />
          <Acts>
            <Button look="main">Send it to {chosen.email}</Button>
          </Acts>
        </ActionForm>
      )}
      {!chosen.email && <p className="soft">No e-mail address is known: print it.</p>}
    </PlainSection>
  );
}

function LetterView({ letter, ground, chosen }: Chosen & { letter: Letter }) {
  const { finding } = ground.shown;
  const scanWords = speaker(letter.language)("link_scan");
  const link = chosen && ground.mayTell && (
    <PrintLink findingId={finding.id} version={finding.version} tenancyId={chosen.id} scanWords={scanWords} />
  );
  return (
    <article className={styles.letter} lang={letter.language} aria-label="The notice">
      <h2>{letter.subject}</h2>
      {letter.blocks.map((block, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: the blocks of a letter stand in a fixed order
        <LetterPart key={at} block={block} link={link} />
      ))}
    </article>
  );
}
