/** A stay as it is stored. */
export interface LaneStay {
  readonly siteId: string;
  readonly unitId: string | null;
  readonly outletId: string | null;
  readonly receptacle: string | null;
  readonly fromAt: Date;
  readonly toAt: Date | null;
  readonly source: string;
}
export interface LaneTick {
  readonly outletId: string;
  readonly at: Date;
}

/** One bar of a lane; `now` is where it still is. */
export interface LaneBar {
  readonly from: Date;
  readonly to: Date;
  readonly now: boolean;
}

/** The time that an appliance spent at one place, with a tick for each sighting kept. */
export interface Lane {
  readonly place: Pick<LaneStay, "siteId" | "unitId" | "outletId" | "receptacle">;
  readonly bars: readonly LaneBar[];
  readonly ticks: readonly Date[];
}

export interface PlacementLanes {
  readonly from: Date;
  readonly to: Date;
  /** The latest place first. */
  readonly lanes: readonly Lane[];
  /** From the last sighting of a stay to the next, where that is long. */
  readonly absences: readonly { readonly from: Date; readonly to: Date }[];
}

export interface LaneSource {
  readonly stays: readonly LaneStay[];
  readonly ticks: readonly LaneTick[];
  readonly now: Date;
  /** Not seen for this long is absent, milliseconds. */
  readonly absentAfterMs: number;
}

const spot = (place: Lane["place"]) => `${place.siteId} ${place.unitId} ${place.outletId} ${place.receptacle}`;

/** Neighbouring stays at one place are one: a file's word and the first sighting that agrees with it. */
function joined(stays: readonly LaneStay[]): LaneStay[] {
  const out: LaneStay[] = [];
  for (const stay of stays) {
    const last = out.at(-1);
    const touching = last?.toAt?.getTime() === stay.fromAt.getTime();
    if (last && touching && spot(last) === spot(stay)) out[out.length - 1] = { ...last, toAt: stay.toAt };
    else out.push(stay);
  }
  return out.filter((stay) => stay.toAt?.getTime() !== stay.fromAt.getTime());
}

function ticksIn(stay: LaneStay, { ticks, now }: LaneSource): Date[] {
  const to = stay.toAt ?? now;
  return ticks.filter(({ outletId, at }) => outletId === stay.outletId && at >= stay.fromAt && at <= to).map(({ at }) => at);
}

/** The stretch of a stay in which its tag was not seen any more; null where it was, or where nobody looks for tags. */
function absenceOf(stay: LaneStay, source: LaneSource): { from: Date; to: Date } | null {
  const seen = ticksIn(stay, source).at(-1);
  const to = stay.toAt ?? source.now;
  return seen && to.getTime() - seen.getTime() > source.absentAfterMs ? { from: seen, to } : null;
}

/** Draws a history as lanes: one a place, bars for the stays, ticks for the sightings, absence as absence. Null without a history. */
export function placementLanes(source: LaneSource): PlacementLanes | null {
  const stays = joined(source.stays);
  const first = stays[0];
  if (!first) return null;
  const lanes = new Map<string, { place: Lane["place"]; bars: LaneBar[]; ticks: Date[] }>();
  const absences: { from: Date; to: Date }[] = [];
  for (const stay of stays) {
    const absence = absenceOf(stay, source);
    if (absence) absences.push(absence);
    const lane = lanes.get(spot(stay)) ?? { place: stay, bars: [], ticks: [] };
    lane.bars.push({ from: stay.fromAt, to: absence?.from ?? stay.toAt ?? source.now, now: stay.toAt === null && absence === null });
    lane.ticks.push(...ticksIn(stay, source));
    lanes.delete(spot(stay));
    lanes.set(spot(stay), lane);
  }
  return { from: first.fromAt, to: source.now, lanes: [...lanes.values()].reverse(), absences };
}
