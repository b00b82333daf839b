import Link from "next/link";
import { Fragment } from "react";
import { Code } from "@/app/_ui/code";
import { DefinitionList } from "@/app/_ui/definition-list";
import type { ApplianceView } from "@/lib/registry/appliance-view";
import { listHref } from "../_parts/address";
import { placeLine } from "../_parts/place-line";
import { dayWords } from "../_parts/time-words";

function circuitWords({ circuit }: ApplianceView): string {
  if (!circuit) return "";
  const figures = [
    circuit.deviceAmps === null ? null : `${circuit.deviceAmps} A`,
    circuit.volts === null ? null : `${circuit.volts} V`,
  ].filter(Boolean);
  return `. Circuit ${[circuit.name, ...figures].join(", ")}`;
}

/** What is known besides the plate. */
export function Facts({ view, now }: { view: ApplianceView; now: Date }) {
  const { appliance, site, identical } = view;
  const { made, upc, maxLampWatts, owner, notes, brandKey, modelKey, unitId } = appliance;
  const twins = listHref(emptyQuery, { maker: brandKey, model: modelKey });
  return (
    <DefinitionList
      entries={[
        [
          "Where",
          <Fragment key="where">
            {site?.name ?? "site not known"}, {placeLine(view, appliance, "within")}
            {circuitWords(view)}
            {unitId && (
              <>
                . <Link href={`/building/${appliance.siteId}?unit=${unitId}`}>See it in the building</Link>
              </>
            )}
          </Fragment>,
        ],
        [
          "Owner",
          owner ?? (
            <span key="owner" className="mute">
              not known
            </span>
          ),
        ],
        made ? ["Made", made] : null,
        upc ? ["UPC", <Code key="upc">{upc}</Code>] : null,
        maxLampWatts ? ["Lamp limit", `${maxLampWatts} W`] : null,
        [
          "Identical",
          identical > 0 ? (
            <Link key="twins" href={twins}>
              {identical} more of this model
            </Link>
          ) : (
            <span key="none" className="mute">
              {modelKey === "" ? "not known without a model" : "no other of this model"}
            </span>
          ),
        ],
        appliance.seenAt ? ["Seen", `largest steady draw on ${dayWords(appliance.seenAt, site?.timeZone ?? null)}`] : null,
        notes ? ["Notes", notes] : null,
        ["In the registry", `since ${dayWords(appliance.createdAt, site?.timeZone ?? null)}${retiredWords(view, now)}`],
      ]}
    />
  );
}

const emptyQuery = {} as Parameters<typeof listHref>[0];

function retiredWords({ appliance, site }: ApplianceView, now: Date): string {
  if (appliance.state !== "retired") return "";
  return `, retired ${dayWords(appliance.retiredAt ?? now, site?.timeZone ?? null)}`;
}
