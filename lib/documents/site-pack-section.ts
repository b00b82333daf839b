import type { SiteAsOf } from "@/lib/registry/as-of";
import { wallClock } from "@/lib/watch/zone-time";

/** How a column is printed: `plate` columns stand together on the strip of the rating plate; a `bar` is a share of a limit. */
export type ColumnLook = "text" | "word" | "code" | "plate" | "plate figure" | "figure" | "theirs" | "bar";

export interface PaperColumn {
  readonly label: string;
  /** Share of the paper's width. */
  readonly width: number;
  readonly look: ColumnLook;
}

export interface PackColumn {
  /** Its name in the table that goes out as CSV; null where only the paper has it. */
  readonly name: string | null;
  /** Null where only the table has it. */
  readonly paper: PaperColumn | null;
}

export type PackCell = string | null;

export interface PackSection {
  /** Name of its table. */
  readonly key: string;
  readonly head: string;
  /** What of it is as of the pack's day, and what as of the making. */
  readonly knownAsOf: string;
  readonly note: string | null;
  /** What stands there where nothing is listed. */
  readonly empty: string;
  readonly columns: readonly PackColumn[];
  readonly rows: readonly (readonly PackCell[])[];
}

/** A column of both the paper and the table. */
export function both(name: string, label: string, width: number, look: ColumnLook = "text"): PackColumn {
  return { name, paper: { label, width, look } };
}

export function paperOnly(label: string, width: number, look: ColumnLook = "text"): PackColumn {
  return { name: null, paper: { label, width, look } };
}

export function tableOnly(name: string): PackColumn {
  return { name, paper: null };
}

/** Where something is: in one column on paper, in three in the table. */
export function placeColumns(width: number): PackColumn[] {
  return [paperOnly("Unit, outlet, receptacle", width), tableOnly("unit"), tableOnly("outlet"), tableOnly("receptacle")];
}

/** Orders rows by texts made of them, by code units, so that no database's or machine's own order is seen. */
export function byTexts<Row>(...keys: ((row: Row) => string)[]): (a: Row, b: Row) => number {
  return (a, b) => {
    for (const key of keys) {
      const [left, right] = [key(a), key(b)];
      if (left !== right) return left < right ? -1 : 1;
    }
    return 0;
  };
}

export interface PackPlace {
  readonly unitId: string | null;
  readonly outletId: string | null;
  readonly receptacle: string | null;
}

/** What every section asks of a site: its names and its clock. */
export class PackNames {
  private readonly units: ReadonlyMap<string, string>;
  private readonly outlets: ReadonlyMap<string, string>;
  private readonly circuits: ReadonlyMap<string, string>;
  private readonly roles: ReadonlyMap<string, string>;
  private readonly zone: string;

  constructor({ site, names }: Pick<SiteAsOf, "site" | "names">) {
    const byId = (rows: readonly { readonly id: string; readonly name: string }[]) => new Map(rows.map(({ id, name }) => [id, name]));
    this.units = byId(names.units);
    this.outlets = byId(names.outlets);
    this.circuits = byId(names.circuits);
    this.roles = new Map(names.members.map(({ userId, role }) => [userId, role]));
    this.zone = site.timeZone ?? "UTC";
  }

  unit(id: string | null): PackCell {
    return this.units.get(id ?? "") ?? null;
  }

  circuit(id: string | null): PackCell {
    return this.circuits.get(id ?? "") ?? null;
  }

  /** Unit, outlet and receptacle as three cells. */
  place({ unitId, outletId, receptacle }: PackPlace): readonly [PackCell, PackCell, PackCell] {
    const outlet = this.outlets.get(outletId ?? "") ?? null;
    return [this.unit(unitId), outlet, outlet === null ? null : receptacle];
  }

  /** Unit, outlet and receptacle in one cell. */
  where(place: PackPlace): PackCell {
    return this.place(place).filter(Boolean).join(", ") || null;
  }

  /** A person by their role: packs are handed on, and names stay erasable. The table of who may act alone names them. */
  roleOf(userId: string | null): string {
    return userId === null ? "command line" : (this.roles.get(userId) ?? "somebody who has left");
  }

  /** A day of the site's own clock, `2026-03-31`. */
  day(at: Date | null): PackCell {
    return this.time(at)?.slice(0, 10) ?? null;
  }

  /** A minute of the site's own clock, `2026-03-31 14:05`. */
  time(at: Date | null): PackCell {
    return at === null ? null : new Date(wallClock(this.zone, at.getTime())).toISOString().slice(0, 16).replace("T", " ");
  }
}
