import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { CheckField, TextField } from "@/app/_ui/field";
import kept from "@/app/_ui/kept-files.module.css";
import { dayIn, type OccupantLanguage, speaker } from "@/lib/casework/occupant-texts";
import type { OccupantCase, OccupantQuestion } from "@/lib/registry/occupant-link";
import { answer, unplugged } from "./actions";

interface Bearer {
  readonly token: string;
  readonly language: OccupantLanguage;
}

function Hidden({ token, language }: Bearer) {
  return (
    <>
      <input type="hidden" name="token" value={token} />
      <input type="hidden" name="language" value={language} />
    </>
  );
}

/** Whether it is unplugged: an explicit step, once. */
export function Unplugged({ bearer, opened }: { bearer: Bearer; opened: Pick<OccupantCase, "unpluggedAt" | "shown"> }) {
  const say = speaker(bearer.language);
  const { unpluggedAt, shown } = opened;
  return (
    <section>
      <h2>{say("unplugged_head")}</h2>
      {unpluggedAt ? (
        <p>{say("unplugged_done", { date: dayIn(bearer.language, unpluggedAt, shown.timeZone) })}</p>
      ) : (
        <ActionForm action={unplugged}>
          <Hidden {...bearer} />
          <CheckField label={say("unplugged_tick")} name="sure" />
          <Acts>
            <Button look="main">{say("unplugged_button")}</Button>
          </Acts>
        </ActionForm>
      )}
    </section>
  );
}

export interface SentPhoto {
  readonly id: string;
  readonly mediaType: string;
  readonly note: string | null;
  readonly at: Date;
}

/** The photos that came through this link, and the way to send another; works without scripts. */
export function Photos(props: { bearer: Bearer; photos: readonly SentPhoto[]; timeZone: string; hasFailed: boolean }) {
  const { bearer, photos, timeZone, hasFailed } = props;
  const say = speaker(bearer.language);
  const path = `/link-files/occupant/${bearer.token}`;
  const hidden = { kind: "occupant", token: bearer.token, back: `/o/${bearer.token}` };
  return (
    <section id="photo">
      <h2>{say("photo_head")}</h2>
      {hasFailed && <p role="alert">{say("photo_failed")}</p>}
      {photos.length > 0 && (
        <ul className={kept.files}>
          {photos.map(({ id, mediaType, note, at }) => (
            <li key={id}>
              {mediaType === "application/pdf" ? (
                <span className={kept.sheet}>PDF</span>
              ) : (
                // biome-ignore lint/performance/noImgElement: kept photos are private and already made small.
                <img src={`${path}/${id}?size=small`} alt={note ?? say("photo_head")} />
              )}
              {note && <span>{note}</span>}
              <span className="small soft">{say("photo_kept", { date: dayIn(bearer.language, at, timeZone) })}</span>
            </li>
          ))}
        </ul>
      )}
      <form className={kept.form} method="post" encType="multipart/form-data" action="/api/v1/uploads/link">
        {Object.entries(hidden).map(([name, value]) => (
          <input key={name} type="hidden" name={name} value={value} />
        ))}
        <label className={kept.pick}>
          {say("photo_pick")}
          <input type="file" name="file" required accept="image/jpeg,image/png,image/webp,application/pdf" />
        </label>
        <TextField label={say("photo_note")} name="note" maxLength={500} hint={say("photo_hint")} />
        <Acts>
          <Button look="plain">{say("photo_button")}</Button>
        </Acts>
      </form>
    </section>
  );
}

/** The one fact that a recall's comparison asks for. */
export function Question({ bearer, question }: { bearer: Bearer; question: OccupantQuestion }) {
  const say = speaker(bearer.language);
  return (
    <section>
      <h2>{say("question_head")}</h2>
      <p>{say("question_lead")}</p>
      <p>
        <b>{say(`question_${question.field}`)}</b>
      </p>
      <ActionForm action={answer} done={say("question_done")} key={question.candidateId}>
        <Hidden {...bearer} />
        <input type="hidden" name="candidateId" value={question.candidateId} />
        <TextField label={say("question_field")} name="value" maxLength={200} required code autoComplete="off" />
        <Acts>
          <Button look="plain">{say("question_button")}</Button>
        </Acts>
      </ActionForm>
    </section>
  );
}
