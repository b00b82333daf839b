import { cautionFor } from "@/lib/casework/cautions";
import type { CaseForGuest } from "@/lib/registry/case-link";
import { DefinitionList } from "./definition-list";
import { SignalBanner } from "./signal-banner";

/** A finding as a guest sees it: the caution first, then what and where, and what was done so far. */
export function GuestCase({ shown, lines }: Pick<CaseForGuest, "shown" | "lines">) {
  const { finding, facts, appliance, place, evidence } = shown;
  const { first, more } = cautionFor(facts);
  const where = [place.site, place.unit ? `unit ${place.unit}` : null, place.spot].filter(Boolean).join(", ");
  const plate = appliance
    ? [appliance.brand, appliance.model, appliance.serial && `serial ${appliance.serial}`].filter(Boolean).join(", ")
    : null;
  return (
    <>
      <SignalBanner word={facts.signalWord} stacked>
        <p>
          <b>{first}</b>
        </p>
        {more.map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
      </SignalBanner>
      <DefinitionList
        entries={[
          ["What", finding.sentence],
          ["Where", where],
          appliance ? ["Tag", appliance.tag] : null,
          plate ? ["Plate", plate] : null,
          ...evidence.figures.map(({ name, value }): [string, string] => [name, value]),
        ]}
      />
      {lines.length > 0 && (
        <ul>
          {lines.map(({ at, text }) => (
            <li key={`${at.toISOString()} ${text}`}>
              <span className="small soft">{at.toISOString().slice(0, 10)}</span> {text}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
