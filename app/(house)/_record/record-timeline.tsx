import Link from "next/link";
import { PlainSection } from "@/app/_ui/side-section";
import type { Actor } from "@/lib/access/actor";
import { mayDo } from "@/lib/access/permissions";
import { recordAbout } from "@/lib/access/record-about";
import type { Db } from "@/lib/store/client";
import { RecordLines } from "./record-lines";

interface Props {
  readonly db: Db;
  readonly actor: Actor;
  /** The thing, and its parts where they belong to its story. */
  readonly ids: readonly string[];
  readonly timeZone?: string | null;
}

/** A thing's timeline: the latest entries of the record about it, for whom the record is. */
export async function RecordTimeline({ db, actor, ids, timeZone = null }: Props) {
  const timeline = await recordAbout(db, actor, ids);
  if (timeline === null) return null;
  const { lines, total } = timeline;
  const maySeeAll = mayDo(actor, "see record") && actor.siteIds === "all" && ids.length === 1;
  return (
    <PlainSection
      head="Record"
      id="record"
      aside={
        <span className="small soft">
          Append-only, each entry linked to the one before.{" "}
          {maySeeAll && total > lines.length && (
            <Link href={`/record?subject=${encodeURIComponent(ids[0] ?? "")}`}>All {total} entries</Link>
          )}
        </span>
      }
    >
      <RecordLines lines={lines} timeZone={timeZone} />
    </PlainSection>
  );
}
