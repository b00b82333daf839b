import Link from "next/link";
import { DefinitionList } from "@/app/_ui/definition-list";
import type { Actor } from "@/lib/access/actor";
import { mayDo } from "@/lib/access/permissions";
import styles from "./site.module.css";

type Way = readonly [href: string, words: string];

function Ways({ ways }: { ways: readonly Way[] }) {
  return (
    <span className={styles.ways}>
      {ways.map(([href, words]) => (
        <Link key={href} href={href}>
          {words}
        </Link>
      ))}
    </span>
  );
}

/** Everything else about one site, by what somebody wants. */
export function SiteLinks({ actor, siteId }: { actor: Actor; siteId: string }) {
  const may = (permission: Parameters<typeof mayDo>[1]) => mayDo(actor, permission, siteId);
  const here = `/building/${siteId}`;
  const layout: Way[] = may("edit places")
    ? [
        [`${here}/places`, "units, circuits and outlets"],
        [`${here}/edit`, "name, clock and voltage"],
      ]
    : [];
  const people: Way[] = may("edit occupants") ? [[`${here}/tenancies`, "who lives where"]] : [];
  const pack: Way[] = may("make site packs") ? [[`${here}/pack`, "site pack"]] : [];
  const due: Way[] = may("edit places") ? [[`${here}/due`, "due days"]] : [];
  return (
    <DefinitionList
      entries={[
        layout.length + people.length > 0 ? ["Lay out", <Ways key="layout" ways={[...layout, ...people]} />] : null,
        [
          "Electricity",
          <Ways
            key="energy"
            ways={[
              [`/readings/energy?site=${siteId}`, "energy"],
              [`/readings/reconnection?site=${siteId}`, "reconnection plan"],
            ]}
          />,
        ],
        [
          "Show others",
          <Ways
            key="proof"
            ways={[
              ...pack,
              [`${here}/then`, "as it was known on a day"],
              [`/recalls/proof?site=${siteId}`, "what was checked for recalls"],
            ]}
          />,
        ],
        [
          "Rules",
          <Ways key="rules" ways={[[`/readings/policy?site=${siteId}`, "policy and standards"], ...due, [`${here}/hold`, "legal hold"]]} />,
        ],
      ]}
    />
  );
}
