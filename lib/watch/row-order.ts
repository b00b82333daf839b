import type { OutletTable } from "./outlet-table";
import type { ScreeningPolicy } from "./policy";
import type { ReceptacleTable } from "./receptacle-table";
import { Row } from "./row";
import { RowRing } from "./row-ring";
import type { SetAsideReason } from "./set-aside";
import { carryList, type StateCarrier } from "./state-carrier";

/** Rows far ahead of the rest, without any of the old time between, that are needed to believe that time went on. */
const believedRows = 3;

/** So many are believed also when they are all of one outlet; and after so many of the old time an outlet ahead has its own clock. */
const patience = 100;

export interface OrderTables {
  readonly policy: ScreeningPolicy;
  readonly outlets: OutletTable;
  readonly receptacles: ReceptacleTable;
  /** Judges rows in their turn. */
  readonly judge: { judge(row: Row): void };
  readonly count: (reason: SetAsideReason) => void;
}

/**
 * Brings rows into time order. All outlets share one window; an outlet whose rows run behind the rest, or far ahead of it, gets
 * a window of its own until it keeps pace again, so that one wrong clock does not carry the others away.
 */
export class RowOrder {
  private readonly main: RowRing;
  /** The windows of outlets that are apart, by outlet. */
  private readonly lanes = new Map<number, RowRing>();
  private ahead = new RowRing(Number.POSITIVE_INFINITY);
  private aheadInRow = 0;
  private rowsSinceAhead = 0;
  private outletsSeen = 0;
  /** The row that is judged. */
  private readonly current = new Row();
  private readonly reorderMs: number = Number.NaN;
  private readonly stepMs: number = Number.NaN;

  constructor(private readonly tables: OrderTables) {
    this.reorderMs = tables.policy.reorderSeconds * 1000;
    this.stepMs = tables.policy.clockStepSeconds * 1000;
    this.main = new RowRing(this.reorderMs, 1024);
  }

  /** Takes a row; whatever is due then is judged. */
  take(row: Row): void {
    const { atMs } = row;
    const outlet = this.tables.receptacles.outlet[row.receptacle]!;
    if (this.tables.outlets.isApart[outlet] === 1) {
      if (!this.keepsPace(atMs)) {
        this.push(this.lanes.get(outlet)!, row);
        return;
      }
      this.rejoin(outlet);
    }
    const { main } = this;
    if (atMs - main.newest > this.stepMs && main.newest > Number.NEGATIVE_INFINITY) this.wait(row);
    else {
      if (!this.ahead.isEmpty) this.doubtAhead(outlet);
      this.push(main, row);
    }
  }

  private keepsPace(atMs: number): boolean {
    return atMs >= this.main.newest - this.reorderMs && atMs - this.main.newest <= this.stepMs;
  }

  private push(lane: RowRing, row: Row): void {
    const { outlets, receptacles, judge } = this.tables;
    const outlet = receptacles.outlet[row.receptacle]!;
    const { atMs } = row;
    if (atMs < lane.dueMs) {
      this.takeBehind(row);
      return;
    }
    const newest = outlets.newestMs[outlet]!;
    if (atMs > newest) outlets.newestMs[outlet] = atMs;
    if (newest === Number.NEGATIVE_INFINITY) this.outletsSeen++;
    lane.push(row);
    const { current } = this;
    while (lane.popDue(current)) judge.judge(current);
  }

  /** A row far ahead of the log is believed once others follow it there, of another outlet if there is one. */
  private wait(row: Row): void {
    if (this.ahead.isEmpty) this.rowsSinceAhead = 0;
    this.ahead.push(row);
    this.aheadInRow++;
    if (this.aheadInRow >= believedRows && (this.aheadInRow >= patience || this.outletsSeen === 1 || this.isSeveral())) this.believeAhead();
  }

  private isSeveral(): boolean {
    const { outlet } = this.tables.receptacles;
    const waiting = this.ahead.receptacles();
    return waiting.some((receptacle) => outlet[receptacle] !== outlet[waiting[0]!]);
  }

  private takeAhead(): RowRing {
    const ahead = this.ahead;
    this.ahead = new RowRing(Number.POSITIVE_INFINITY);
    this.aheadInRow = 0;
    return ahead;
  }

  private believeAhead(): void {
    const believed = this.takeAhead();
    const row = new Row();
    while (believed.pop(row)) this.push(this.main, row);
  }

  /** A row of the old time: its own outlet's rows ahead were a stepped clock; other outlets' after a while have their own time. */
  private doubtAhead(outlet: number): void {
    const { receptacles, count } = this.tables;
    const waiting = this.takeAhead();
    const isSettled = ++this.rowsSinceAhead >= patience;
    const row = new Row();
    while (waiting.pop(row)) {
      const of = receptacles.outlet[row.receptacle]!;
      if (of === outlet) count("clock_stepped");
      else if (isSettled) this.push(this.lanes.get(of) ?? this.setApart(of), row);
      else this.ahead.push(row);
    }
  }

  private setApart(outlet: number): RowRing {
    const lane = new RowRing(this.reorderMs);
    this.lanes.set(outlet, lane);
    this.tables.outlets.isApart[outlet] = 1;
    return lane;
  }

  /**
   * A row older than the window allows. When it is in order by its own outlet, the outlet runs behind the rest and is set apart;
   * else it is late, and a row that goes on from a late one shows a clock that stepped back.
   */
  private takeBehind(row: Row): void {
    const { outlets, receptacles, count } = this.tables;
    const outlet = receptacles.outlet[row.receptacle]!;
    const { atMs } = row;
    if (outlets.isApart[outlet] === 0 && atMs > outlets.newestMs[outlet]!) {
      this.push(this.setApart(outlet), row);
      return;
    }
    const behindMs = outlets.takeBehind(outlet, atMs);
    count(atMs >= behindMs && atMs - behindMs < this.stepMs ? "clock_stepped" : "late");
  }

  /** An outlet that keeps pace with the log is judged with its circuit and legs again. */
  private rejoin(outlet: number): void {
    const lane = this.lanes.get(outlet);
    if (lane !== undefined) this.flush(lane);
    this.lanes.delete(outlet);
    this.tables.outlets.isApart[outlet] = 0;
  }

  private flush(lane: RowRing): void {
    while (lane.pop(this.current)) this.tables.judge.judge(this.current);
  }

  /** Lets every row go that still waits. */
  finish(): void {
    this.believeAhead();
    this.flush(this.main);
    for (const lane of this.lanes.values()) this.flush(lane);
  }

  /** Carries the rows that wait and which outlets are apart. `names` carries what the numbers stand for. */
  carry(state: StateCarrier, names: RowNames): void {
    this.main.carry(state, names.receptacle, names.tag);
    carryList(state, [...this.lanes.keys()], (known) => {
      const outlet = names.outlet(known ?? -1);
      const lane = outlet < 0 ? null : (this.lanes.get(outlet) ?? this.setApart(outlet));
      state.part(lane === null ? null : (part) => lane.carry(part, names.receptacle, names.tag));
    });
    this.ahead.carry(state, names.receptacle, names.tag);
    this.aheadInRow = state.number(this.aheadInRow);
    this.rowsSinceAhead = state.number(this.rowsSinceAhead);
    this.outletsSeen = state.number(this.outletsSeen);
  }
}

/** Carries numbers by what they stand for; -1 for what is not there any more. */
export interface RowNames {
  readonly receptacle: (number: number) => number;
  readonly tag: (number: number) => number;
  readonly outlet: (number: number) => number;
}
