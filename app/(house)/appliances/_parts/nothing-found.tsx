import Link from "next/link";
import { EmptyState } from "@/app/_ui/empty-state";
import type { FilterChip } from "@/app/_ui/filter-bar";
import type { Actor } from "@/lib/access/actor";
import type { ApplianceQuery } from "@/lib/registry/appliance-list";
import { nearestWords } from "@/lib/registry/appliance-near";
import type { Store } from "@/lib/store/client";
import { listHref } from "./address";

/** The empty list: names each filter that could be dropped, and makers and models that read like what was typed. */
export async function NothingFound(props: { db: Store; actor: Actor; query: ApplianceQuery; chips: readonly FilterChip[] }) {
  const { db, actor, query, chips } = props;
  const near = query.q ? await nearestWords(db, actor, query.q) : [];
  const only = chips.length === 1;
  return (
    <EmptyState head="No appliance matches">
      {only ? "Take this filter off: " : "All of these are on. Drop one: "}
      {chips.map(({ label, offHref }, i) => (
        <span key={label}>
          {i > 0 && ", "}
          <Link href={offHref}>{label}</Link>
        </span>
      ))}
      {near.length > 0 && (
        <>
          {". Perhaps you mean "}
          {near.map((word, i) => (
            <span key={word}>
              {i > 0 && " or "}
              <Link href={listHref(query, { q: word })}>{word}</Link>
            </span>
          ))}
        </>
      )}
      .
    </EmptyState>
  );
}
