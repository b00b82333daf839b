import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { DefinitionList } from "@/app/_ui/definition-list";
import { FieldColumns, NamedOptions, SelectField, TextField } from "@/app/_ui/field";
import { Seen } from "@/app/_ui/seen";
import { SideSection } from "@/app/_ui/side-section";
import { fewestKeepDays, type Retention, retentionMark, retentionSeen } from "@/lib/registry/readings-retention";
import { clockWords } from "../_parts/chart-words";
import { keepReadings } from "./actions";
import styles from "./keys.module.css";

const daysWords = (days: number | null, none: string) => (days === null ? none : `${days} days`);

/** How long readings are kept one by one, and what is kept for good. */
export function RetentionSection({
  retention,
  sites,
  mayAll,
}: {
  retention: Retention;
  sites: readonly { readonly id: string; readonly name: string }[];
  /** Whether the person has all sites, so that the time for the whole organisation is theirs to set. */
  mayAll: boolean;
}) {
  const own = sites.flatMap(({ id, name }): [string, string][] => {
    const site = retention.sites.get(id);
    if (!site || (site.keepDays === null && site.rawFrom === null)) return [];
    const since = site.rawFrom === null ? "" : `; kept one by one from ${clockWords(site.rawFrom.getTime(), "UTC")} UTC on`;
    return [[name, `${daysWords(site.keepDays, "as the organisation")}${since}`]];
  });
  return (
    <SideSection
      head="How long readings are kept"
      note="Older readings are put away each day: sums of each hour, the seconds around what the screening found, and its results stay for good. A hold stops it."
    >
      <div className={styles.kept}>
        <DefinitionList entries={[["All sites", daysWords(retention.keepDays, "for good")], ...own]} />
      </div>
      <ActionForm action={keepReadings} done="Set. What was put away by then stays put away.">
        {mayAll && <Seen name={retentionMark(null)} values={retentionSeen(retention.keepDays)} />}
        {sites.map(({ id }) => (
          <Seen key={id} name={retentionMark(id)} values={retentionSeen(retention.sites.get(id)?.keepDays ?? null)} />
        ))}
        <FieldColumns>
          <SelectField label="For" name="siteId">
            {mayAll && <option value="">all sites</option>}
            <NamedOptions list={sites} />
          </SelectField>
          <TextField
            label="Days"
            name="keepDays"
            inputMode="numeric"
            maxLength={6}
            autoComplete="off"
            hint={`${fewestKeepDays} or more; empty is for good, for one site as for all.`}
          />
        </FieldColumns>
        <Acts>
          <Button>Set the time</Button>
        </Acts>
      </ActionForm>
    </SideSection>
  );
}
