import { forPage } from "@/app/_server/page";
import { EmptyState } from "@/app/_ui/empty-state";
import { PlainSection } from "@/app/_ui/side-section";
import type { Actor } from "@/lib/access/actor";
import { type DrawRange, drawSeries } from "@/lib/registry/draw-series";
import type { Db } from "@/lib/store/client";
import { DrawChart, RangeLinks } from "./draw-chart";

interface Props {
  readonly db: Db;
  readonly actor: Actor;
  readonly applianceId: string;
  readonly range: DrawRange | null;
  /** The address that shows another stretch of time. */
  readonly hrefOf: (range: DrawRange) => string;
}

/** "Draw over time" of one appliance, as its page shows it. */
export async function DrawSection({ db, actor, applianceId, range, hrefOf }: Props) {
  const series = await forPage(drawSeries(db, actor, { applianceId, range }));
  return (
    <PlainSection head="Draw over time" id="draw" aside={series && <RangeLinks series={series} hrefOf={hrefOf} />}>
      {series ? (
        <DrawChart series={series} />
      ) : (
        <EmptyState head="No reading of this appliance yet">
          Load an outlet log that names its tag, or the outlet it is recorded at. That nothing was measured does not mean that nothing is
          wrong.
        </EmptyState>
      )}
    </PlainSection>
  );
}
