import { Acts, Button } from "./button";
import { TextField } from "./field";
import styles from "./kept-files.module.css";

/** A photo or document as the page shows it. */
export interface KeptFileLine {
  readonly id: string;
  readonly fileName: string;
  readonly mediaType: string;
  readonly note: string | null;
  /** By whom and when, in words. */
  readonly words: string;
  /** Why it was taken back; null while it stands. */
  readonly withdrawnWhy: string | null;
}

/** Where the files of a signed-in person are. */
const ownPath = "/api/v1/attachments";

/** Photos and documents of a thing: each opens in full. `path` is where they are for whoever came by a link. */
export function KeptFiles({ files, path = ownPath }: { files: readonly KeptFileLine[]; path?: string }) {
  if (files.length === 0) return <p className="soft">No photo and no document yet.</p>;
  return (
    <ul className={styles.files}>
      {files.map((file) => (
        <li key={file.id} className={file.withdrawnWhy === null ? undefined : styles.gone}>
          <a href={`${path}/${file.id}`} target="_blank" rel="noopener">
            <Small file={file} path={path} />
            <span className={styles.name}>{file.fileName}</span>
          </a>
          {file.note && <span>{file.note}</span>}
          <span className="small soft">{file.words}</span>
          {file.withdrawnWhy !== null && <span className="small">Taken back: {file.withdrawnWhy}</span>}
        </li>
      ))}
    </ul>
  );
}

function Small({ file, path }: { file: KeptFileLine; path: string }) {
  if (file.mediaType === "application/pdf") return <span className={styles.sheet}>PDF</span>;
  // biome-ignore lint/performance/noImgElement: kept photos are private and already made small.
  return <img src={`${path}/${file.id}?size=small`} alt={file.note ?? "Photo, not described"} loading="lazy" />;
}

/** Sends a photo or PDF to be kept with a thing, and comes back to `back`. */
export function KeepFileForm({ kind, subject, back }: { kind: string; subject: string; back: string }) {
  return <FileForm action="/api/v1/uploads/attachments" hidden={{ kind, subject, back }} />;
}

/** The same for the bearer of a link. */
export function GuestFileForm({ kind, token, back }: { kind: string; token: string; back: string }) {
  return <FileForm action="/api/v1/uploads/link" hidden={{ kind, token, back }} />;
}

/** Works without scripts; a phone offers its camera. */
function FileForm({ action, hidden }: { action: string; hidden: Readonly<Record<string, string>> }) {
  return (
    <form className={styles.form} method="post" encType="multipart/form-data" action={action}>
      {Object.entries(hidden).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      <label className={styles.pick}>
        Photo or PDF, up to 20 MB
        <input type="file" name="file" required accept="image/jpeg,image/png,image/webp,application/pdf" />
      </label>
      <TextField label="What it shows" name="note" maxLength={500} hint="A photo is kept without its place, time and camera." />
      <Acts>
        <Button look="plain">Keep it</Button>
      </Acts>
    </form>
  );
}
