import Link from "next/link";
import { figures } from "@/app/_ui/account";
import { Button } from "@/app/_ui/button";
import { EmptyState } from "@/app/_ui/empty-state";
import { SelectField, TextField } from "@/app/_ui/field";
import { FilterBar, type FilterChip, FilterChips } from "@/app/_ui/filter-bar";
import { Pager } from "@/app/_ui/pager";
import { PlainSection } from "@/app/_ui/side-section";
import { gradeWords } from "@/lib/matching/candidate";
import { type CandidateList, candidatesAPage } from "@/lib/registry/recall-overview";
import { addressOf, type RecallsAddress } from "./address";
import { CandidateTable } from "./candidate-table";
import { standingWords } from "./grade-words";
import styles from "./recalls.module.css";

const stateChoices = ["open", "unsure", "affected", "not_affected", "all"] as const;
const stateNames = { ...standingWords, open: "undecided", all: "all" } as const;
const gradeChoices = ["all", "covered", "likely", "check_label", "not_covered"] as const;

/** The appliances that a notice may cover, by decision and grade. */
export function CandidateSection({ list, address }: { list: CandidateList; address: RecallsAddress }) {
  const { candidates } = address;
  const at = (changes: Partial<RecallsAddress["candidates"]>) =>
    addressOf({ ...address, candidates: { ...candidates, page: 1, ...changes } }, "candidates");
  const chips: FilterChip[] = [
    ...(candidates.search ? [{ label: `“${candidates.search}”`, offHref: at({ search: "" }) }] : []),
    ...(candidates.state !== "open" ? [{ label: stateNames[candidates.state], offHref: at({ state: "open" }) }] : []),
    ...(candidates.grade !== "all" ? [{ label: gradeWords[candidates.grade], offHref: at({ grade: "all" }) }] : []),
  ];
  const pages = Math.max(1, Math.ceil(list.total / candidatesAPage));
  return (
    <PlainSection head="Appliances a notice may cover" id="candidates">
      <FilterBar action="/recalls">
        <TextField label="Find" name="q" type="search" defaultValue={candidates.search} placeholder="Tag, maker, model, serial, notice" />
        <SelectField label="Decision" name="state" defaultValue={candidates.state}>
          {stateChoices.map((name) => (
            <option key={name} value={name}>
              {stateNames[name]}
            </option>
          ))}
        </SelectField>
        {candidates.grade !== "all" && <input type="hidden" name="grade" value={candidates.grade} />}
        <Button>Show</Button>
      </FilterBar>
      <FilterChips chips={chips} clearHref="/recalls#candidates" />
      <nav className={styles.grades} aria-label="Grades">
        {gradeChoices.map((grade) => (
          <Link key={grade} href={at({ grade })} scroll={false} aria-current={candidates.grade === grade ? "true" : undefined}>
            {grade === "all" ? "All grades" : `${gradeWords[grade]} ${figures(list.byGrade[grade])}`}
          </Link>
        ))}
      </nav>
      {list.rows.length === 0 ? (
        <EmptyState head="None match" action={chips.length > 0 && <Link href="/recalls#candidates">Show all undecided</Link>}>
          {chips.length > 0
            ? "Take a filter off to see more."
            : "No undecided candidate is left. No match found does not mean not recalled."}
        </EmptyState>
      ) : (
        <>
          <CandidateTable
            caption="Appliances a notice may cover"
            rows={list.rows}
            sorting={{ sort: candidates.sort, order: candidates.order, href: (sort, order) => at({ sort, order }) }}
          />
          <Pager page={candidates.page} pages={pages} href={(page) => at({ page })}>
            {figures(list.total)} in all
          </Pager>
        </>
      )}
    </PlainSection>
  );
}
