import { SelectField, TextField } from "@/app/_ui/field";
import { SideSection } from "@/app/_ui/side-section";
import { deviationSets } from "@/lib/electrical/deviation-sets";
import { plugSystems } from "@/lib/electrical/plug-systems";
import { sourceWords } from "@/lib/electrical/rule-source";
import type { SitePolicyView } from "@/lib/registry/site-policy";
import { policyOrigins, screeningPolicy } from "@/lib/watch/policy";
import { figureText, type PolicyField, policyGroups, unitWords } from "@/lib/watch/policy-fields";
import { defaultStandards, deviceChoices } from "@/lib/watch/policy-standards";
import styles from "./policy.module.css";

/** The figures in groups: what holds here, the default and where it comes from, the bounds and why. */
export function PolicyFigureGroups({ view, mayEdit }: { view: SitePolicyView; mayEdit: boolean }) {
  return policyGroups.map((group) => (
    <SideSection key={group.head} head={group.head} note={group.note}>
      {group.fields.map((field) => (
        <FigureRow key={field.name} field={field} view={view} mayEdit={mayEdit} />
      ))}
    </SideSection>
  ));
}

function FigureRow({ field, view, mayEdit }: { field: PolicyField; view: SitePolicyView; mayEdit: boolean }) {
  const stated = view.stated.figures[field.name];
  const usual = `${figureText(field, screeningPolicy[field.name])}${unitWords(field)}`;
  const here = `${figureText(field, view.policy[field.name])}${unitWords(field)}`;
  const isSaid = field.label.toLowerCase().includes(field.unit);
  const label = isSaid ? field.label : `${field.label},${unitWords(field)}`;
  return (
    <div className={styles.row}>
      {mayEdit ? (
        <TextField
          label={label}
          name={field.name}
          defaultValue={stated === undefined ? "" : figureText(field, stated)}
          placeholder={figureText(field, screeningPolicy[field.name])}
          inputMode="decimal"
          autoComplete="off"
        />
      ) : (
        <span>{label}</span>
      )}
      <span className={styles.value}>
        <span className={stated === undefined ? undefined : styles.stated}>{here} here</span>
        <span className={styles.origin}>{stated === undefined ? ", the default" : `, stated by the site; default ${usual}`}</span>
      </span>
      <span className={styles.origin}>
        Default {usual}: {policyOrigins[field.name]}. Allowed {figureText(field, field.least)} to {figureText(field, field.most)}
        {unitWords(field)}: {field.why}
      </span>
    </div>
  );
}

interface Choice {
  readonly name: "deviation" | "device" | "plugs";
  readonly label: string;
  readonly options: readonly (readonly [name: string, words: string])[];
  readonly origin: string;
}

function choicesOf(view: SitePolicyView): Choice[] {
  const { deviation, plugs } = view.standards;
  const words = (table: Readonly<Record<string, { readonly words: string }>>) =>
    Object.entries(table).map(([name, one]) => [name, one.words] as const);
  return [
    {
      name: "deviation",
      label: "Permitted deviation from the rating",
      options: words(deviationSets),
      origin: sourceWords(deviationSets[deviation].source),
    },
    {
      name: "device",
      label: "Overcurrent devices",
      options: words(deviceChoices),
      origin: "Thermal model within the published calibration points of the standard; in no standard itself.",
    },
    { name: "plugs", label: "Plug system", options: words(plugSystems), origin: sourceWords(plugSystems[plugs].source) },
  ];
}

/** The standards that a site goes by, each with its source. */
export function PolicyStandards({ view, mayEdit }: { view: SitePolicyView; mayEdit: boolean }) {
  const usual = defaultStandards(view.site.nominalVolts);
  return (
    <SideSection head="Standards" note="Which standard and edition the limits come from. The usual ones follow the site's nominal voltage.">
      {choicesOf(view).map(({ name, label, options, origin }) => {
        const wordsOf = (chosen: string) => options.find(([one]) => one === chosen)?.[1] ?? chosen;
        return (
          <div className={`${styles.row} ${styles.wide}`} key={name}>
            {mayEdit ? (
              <SelectField label={label} name={name} defaultValue={view.stated.standards[name] ?? ""}>
                <option value="">the usual one: {wordsOf(usual[name])}</option>
                {options.map(([one, words]) => (
                  <option key={one} value={one}>
                    {words}
                  </option>
                ))}
              </SelectField>
            ) : (
              <span>{label}</span>
            )}
            <span>
              {wordsOf(view.standards[name])}
              <span className={styles.source}>{origin}</span>
            </span>
          </div>
        );
      })}
    </SideSection>
  );
}
