import type { OutletState } from "./outlet-state";
import type { ScreeningPolicy } from "./policy";
import type { Reading } from "./reading";
import { carryReading } from "./reading-carrier";
import type { ReceptacleState } from "./receptacle-state";
import { ReorderWindow } from "./reorder-window";
import type { SetAsideReason } from "./set-aside";
import type { SiteState } from "./site-state";
import { carryList, type StateCarrier } from "./state-carrier";

/** A receptacle with where it is; the owner of its rows. */
export interface Socket {
  readonly place: Place;
  readonly receptacle: ReceptacleState;
}

/** The window in which rows wait, each with the receptacle it is of. */
type Lane = ReorderWindow<Reading, Socket>;

/** An outlet, its site, and the window its rows wait in; null is the one that the log as a whole goes through. */
export interface Place {
  readonly outlet: OutletState;
  readonly site: SiteState;
  /** By the receptacle's text as it stands in the rows. */
  readonly sockets: Map<string | null, Socket>;
  lane: Lane | null;
}

function socketOf(place: Place, receptacle: string | null): Socket {
  const known = place.sockets.get(receptacle);
  if (known !== undefined) return known;
  const socket = { place, receptacle: place.outlet.receptacle(receptacle) };
  if (place.sockets.size < 64) place.sockets.set(receptacle, socket);
  return socket;
}

/** Rows far ahead of the rest that are needed to believe that time went on. */
const believedRows = 3;

/** Rows of the old time after which an outlet that is ahead is taken to have a clock of its own. */
const patience = 100;

/**
 * Brings rows into time order. All outlets share one window; an outlet whose rows run behind the rest, or far ahead of it, gets
 * a window of its own until it keeps pace again, so that one wrong clock does not carry the others away.
 */
export class RowOrder {
  private readonly main: Lane;
  private readonly lanes = new Set<Lane>();
  private ahead: { readonly reading: Reading; readonly place: Place }[] = [];
  private rowsSinceAhead = 0;
  private readonly reorderMs: number;
  private readonly stepMs: number;

  constructor(
    policy: ScreeningPolicy,
    private readonly judge: (reading: Reading, socket: Socket) => void,
    private readonly count: (reason: SetAsideReason) => void,
  ) {
    this.reorderMs = policy.reorderSeconds * 1000;
    this.stepMs = policy.clockStepSeconds * 1000;
    this.main = new ReorderWindow(this.reorderMs, judge);
  }

  take(reading: Reading, place: Place): void {
    const { atMs } = reading;
    if (place.lane !== null) {
      if (!this.keepsPace(atMs)) {
        this.push(place.lane, reading, place);
        return;
      }
      this.rejoin(place);
    }
    if (atMs - this.main.newest > this.stepMs && this.main.newest > Number.NEGATIVE_INFINITY) this.wait(reading, place);
    else {
      if (this.ahead.length > 0) this.doubtAhead(place);
      this.push(this.main, reading, place);
    }
  }

  private keepsPace(atMs: number): boolean {
    return atMs >= this.main.newest - this.reorderMs && atMs - this.main.newest <= this.stepMs;
  }

  private push(lane: Lane, reading: Reading, place: Place): void {
    const { outlet } = place;
    const { atMs } = reading;
    if (atMs < lane.newest - this.reorderMs) {
      this.takeBehind(reading, place);
      return;
    }
    if (atMs > outlet.newestMs) outlet.newestMs = atMs;
    lane.push(atMs, reading, socketOf(place, reading.receptacle));
  }

  /** A row far ahead of the log is believed once others follow it there, and no row of the old time comes between. */
  private wait(reading: Reading, place: Place): void {
    if (this.ahead.length === 0) this.rowsSinceAhead = 0;
    this.ahead.push({ reading, place });
    if (this.ahead.length >= believedRows && this.rowsSinceAhead === 0) this.believeAhead();
  }

  private believeAhead(): void {
    const believed = this.ahead;
    this.ahead = [];
    for (const { reading, place } of believed.sort((a, b) => a.reading.atMs - b.reading.atMs)) this.push(this.main, reading, place);
  }

  /** A row of the old time: its own outlet's rows ahead were a stepped clock; other outlets' after a while have their own time. */
  private doubtAhead(place: Place): void {
    const stepped = this.ahead.filter((row) => row.place === place);
    for (const _ of stepped) this.count("clock_stepped");
    if (stepped.length > 0) this.ahead = this.ahead.filter((row) => row.place !== place);
    if (++this.rowsSinceAhead < patience) return;
    const apart = this.ahead;
    this.ahead = [];
    for (const row of apart) this.push(row.place.lane ?? this.setApart(row.place), row.reading, row.place);
  }

  private setApart(place: Place): Lane {
    const lane: Lane = new ReorderWindow(this.reorderMs, this.judge);
    this.lanes.add(lane);
    place.lane = lane;
    place.outlet.apart = true;
    return lane;
  }

  /**
   * A row older than the window allows. When it is in order by its own outlet, the outlet runs behind the rest and is set apart;
   * else it is late, and a row that goes on from a late one shows a clock that stepped back.
   */
  private takeBehind(reading: Reading, place: Place): void {
    const { outlet } = place;
    const { atMs } = reading;
    if (place.lane === null && atMs > outlet.newestMs) {
      this.push(this.setApart(place), reading, place);
      return;
    }
    this.count(atMs >= outlet.behindMs && atMs - outlet.behindMs < this.stepMs ? "clock_stepped" : "late");
    outlet.behindMs = atMs;
  }

  /** An outlet that keeps pace with the log is judged with its circuit and legs again. */
  private rejoin(place: Place): void {
    if (place.lane === null) return;
    place.lane.flush();
    this.lanes.delete(place.lane);
    place.lane = null;
    place.outlet.apart = false;
  }

  /** Carries the rows that wait, and which outlets are apart; `places` by outlet name. */
  carry(state: StateCarrier, places: ReadonlyMap<string, Place>): void {
    this.carryLane(state, this.main, places);
    const apart = [...this.lanes].map((lane) => [...places.values()].find((place) => place.lane === lane)!);
    carryList(state, apart, (known) => {
      const place = places.get(state.text(known?.outlet.plan.outlet ?? "") ?? "");
      state.part(place === undefined ? null : (part) => this.carryLane(part, place.lane ?? this.setApart(place), places));
      return known as Place;
    });
    const ahead = carryList(state, this.ahead, (known) => {
      const reading = carryReading(state, known?.reading ?? null);
      return { reading, place: places.get(reading.outlet) };
    });
    this.ahead = ahead.flatMap(({ reading, place }) => (place === undefined ? [] : { reading, place }));
    this.rowsSinceAhead = state.number(this.rowsSinceAhead);
  }

  private carryLane(state: StateCarrier, lane: Lane, places: ReadonlyMap<string, Place>): void {
    lane.carry(state, (row) => {
      const reading = carryReading(state, row);
      const place = places.get(reading.outlet);
      return place === undefined ? null : { row: reading, owner: socketOf(place, reading.receptacle) };
    });
  }

  /** Lets every row go that still waits. */
  finish(): void {
    this.believeAhead();
    this.main.flush();
    for (const lane of this.lanes) lane.flush();
  }
}
