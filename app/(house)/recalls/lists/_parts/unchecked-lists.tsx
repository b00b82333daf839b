import Link from "next/link";
import { SignalBanner } from "@/app/_ui/signal-banner";
import type { Actor } from "@/lib/access/actor";
import { uncheckedSources } from "@/lib/registry/notice-source-view";
import type { Db } from "@/lib/store/client";
import styles from "./lists.module.css";
import { timeWords } from "./source-words";

/** Where a list may no longer be the publisher's: said before anyone takes "no match" for an answer. Nothing when all are checked. */
export async function UncheckedLists({ db, actor, now }: { db: Db; actor: Actor; now: Date }) {
  const sources = await uncheckedSources(db, actor, { now });
  if (sources.length === 0) return null;
  return (
    <div className={styles.advice}>
      <SignalBanner word="CAUTION">
        <p>
          <b>
            {sources.length === 1 ? "A recall list was" : `${sources.length} recall lists were`} not checked, so a new recall may be missing
            here.
          </b>{" "}
          {sources.map(({ id, name, checkedAt }, at) => (
            <span key={id}>
              {at > 0 && "; "}
              <Link href={`/recalls/lists/${id}`}>{name}</Link>: {checkedAt ? `not checked since ${timeWords(checkedAt)}` : "never checked"}
            </span>
          ))}
          .
        </p>
      </SignalBanner>
    </div>
  );
}
