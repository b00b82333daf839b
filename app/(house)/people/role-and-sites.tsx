import { CheckField, FieldColumns, SelectField } from "@/app/_ui/field";
import { type Role, roles } from "@/lib/access/actor";
import type { GrantableSites } from "@/lib/access/grantable-sites";
import styles from "./people.module.css";

const does: Readonly<Record<Role, string>> = {
  administrator: "everything, and people",
  manager: "runs buildings: places, lists, logs, decisions",
  surveyor: "walks and tags: appliances and labels",
  inspector: "reviews, screens, decides, closes",
};

/** The role and the sites of a person: one choice, and ticks for the sites. */
export function RoleAndSites(props: { chosen: Role; sites: "all" | readonly string[]; grantable: GrantableSites }) {
  const { chosen, sites, grantable } = props;
  return (
    <>
      <FieldColumns>
        <SelectField label="Role" name="role" defaultValue={chosen}>
          {roles.map((one) => (
            <option key={one} value={one}>
              {one}: {does[one]}
            </option>
          ))}
        </SelectField>
      </FieldColumns>
      <fieldset className={styles.sites}>
        <legend>Sites</legend>
        {grantable.all && (
          <CheckField label="All sites, those to come included" name="sites" value="all" defaultChecked={sites === "all"} />
        )}
        {grantable.sites.map(({ id, name }) => (
          <CheckField key={id} label={name} name="sites" value={id} defaultChecked={sites !== "all" && sites.includes(id)} />
        ))}
      </fieldset>
    </>
  );
}
