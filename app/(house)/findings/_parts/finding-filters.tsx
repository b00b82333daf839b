import Link from "next/link";
import { figures } from "@/app/_ui/account";
import { Button } from "@/app/_ui/button";
import { SelectField, TextField } from "@/app/_ui/field";
import { FilterBar, type FilterChip, FilterChips } from "@/app/_ui/filter-bar";
import { causeWords, isFindingCause } from "@/lib/casework/cause";
import { signalWords } from "@/lib/casework/signal-word";
import type { FindingList, FindingQuery } from "@/lib/registry/finding-list";
import { findingsHref, findingsPath } from "./address";
import styles from "./findings.module.css";

const stateOptions = {
  "": "not closed",
  open: "open",
  out_of_use: "out of use",
  remedy_awaited: "remedy awaited",
  closed: "closed",
  all: "all",
};
const ownerOptions = { "": "anybody", me: "mine", nobody: "nobody's" };

function Choice(props: { label: string; name: string; value: string | undefined; options: Readonly<Record<string, string>> }) {
  return (
    <SelectField label={props.label} name={props.name} defaultValue={props.value ?? ""}>
      {Object.entries(props.options).map(([value, words]) => (
        <option key={value} value={value}>
          {words}
        </option>
      ))}
    </SelectField>
  );
}

interface Sites {
  readonly sites: readonly { readonly id: string; readonly name: string }[];
}

/** Search, filters and what is on; plain GET, so that the address holds them. */
export function FindingFilters({ query, sites, counts }: { query: FindingQuery; counts: FindingList["counts"] } & Sites) {
  return (
    <>
      <FilterBar action={findingsPath} key={JSON.stringify(query)}>
        <TextField
          label="Find"
          type="search"
          name="q"
          defaultValue={query.q ?? ""}
          placeholder="Tag, maker, model, notice, words of the finding"
        />
        {sites.length > 1 && (
          <Choice
            label="Site"
            name="site"
            value={query.site}
            options={{ "": "all", ...Object.fromEntries(sites.map(({ id, name }) => [id, name])) }}
          />
        )}
        <Choice label="State" name="state" value={query.state} options={stateOptions} />
        <Choice label="Cause" name="cause" value={query.cause} options={{ "": "any", ...causeWords }} />
        <Choice label="Owner" name="owner" value={query.owner} options={ownerOptions} />
        {query.word && <input type="hidden" name="word" value={query.word} />}
        {query.sort && <input type="hidden" name="sort" value={query.sort} />}
        {query.order && <input type="hidden" name="order" value={query.order} />}
        <Button>Show</Button>
      </FilterBar>
      <FilterChips chips={chipsOf(query, sites)} clearHref={findingsPath} />
      <nav className={styles.words} aria-label="Signal words">
        <Link href={findingsHref(query, { word: undefined })} aria-current={query.word ? undefined : "true"} scroll={false}>
          All words
        </Link>
        {signalWords.map((word) => (
          <Link key={word} href={findingsHref(query, { word })} aria-current={query.word === word ? "true" : undefined} scroll={false}>
            {word} {figures(counts.get(word) ?? 0)}
          </Link>
        ))}
        <Link
          href={findingsHref(query, { due: query.due ? undefined : "past" })}
          aria-current={query.due ? "true" : undefined}
          scroll={false}
        >
          Overdue only
        </Link>
      </nav>
    </>
  );
}

function chipsOf(query: FindingQuery, sites: Sites["sites"]): FilterChip[] {
  const chip = (label: string, off: Parameters<typeof findingsHref>[1]): FilterChip => ({ label, offHref: findingsHref(query, off) });
  return [
    ...(query.q ? [chip(`“${query.q}”`, { q: undefined })] : []),
    ...(query.site ? [chip(`site ${sites.find(({ id }) => id === query.site)?.name ?? "unknown"}`, { site: undefined })] : []),
    ...(query.state ? [chip(stateOptions[query.state as keyof typeof stateOptions], { state: undefined })] : []),
    ...(query.cause && isFindingCause(query.cause) ? [chip(causeWords[query.cause].toLowerCase(), { cause: undefined })] : []),
    ...(query.word ? [chip(query.word, { word: undefined })] : []),
    ...(query.owner ? [chip(ownerOptions[query.owner as keyof typeof ownerOptions], { owner: undefined })] : []),
    ...(query.due ? [chip("overdue", { due: undefined })] : []),
    ...(query.appliance ? [chip("one appliance", { appliance: undefined })] : []),
  ];
}
