import { tagKey } from "@/lib/identity/tag-code";
import type { Db } from "@/lib/store/client";
import { appliancesAtOutlets } from "@/lib/store/log-plan-queries";
import { appliancesByTag } from "@/lib/store/placement-queries";

const spot = (outletId: string, receptacle: string) => `${outletId} ${receptacle}`;

/** Which appliance a receptacle's readings belong to: the tag last seen there, before any the one the registry has there. */
export class PluggedIn {
  private readonly byTag = new Map<string, string | null>();
  private readonly at = new Map<string, string | null>();
  private readonly outlets = new Set<string>();
  private readonly empty = new Set<string>();

  constructor(
    private readonly db: Db,
    private readonly organisationId: string,
  ) {}

  /** Looks up the tags and outlets that come next, so that `take` need not wait. */
  async prepare(tags: Iterable<string>, outletIds: Iterable<string>): Promise<void> {
    const newTags = [...new Set([...tags].map(tagKey))].filter((key) => key !== "" && !this.byTag.has(key));
    if (newTags.length > 0) {
      for (const key of newTags) this.byTag.set(key, null);
      for (const { id, tagKey: key } of await appliancesByTag(this.db, this.organisationId, newTags)) this.byTag.set(key, id);
    }
    const newOutlets = [...new Set(outletIds)].filter((id) => !this.outlets.has(id));
    if (newOutlets.length === 0) return;
    for (const id of newOutlets) this.outlets.add(id);
    for (const { id, outletId, receptacle } of await appliancesAtOutlets(this.db, newOutlets))
      if (outletId !== null && !this.empty.has(spot(outletId, receptacle ?? ""))) this.at.set(spot(outletId, receptacle ?? ""), id);
  }

  /** The appliance that a row of this receptacle speaks of; the row's tag and event are taken into account for the rows after it. */
  take(outletId: string, receptacle: string, row: { readonly tag: string | null; readonly event: string | null }): string | null {
    const key = spot(outletId, receptacle);
    const tagged = row.tag === null ? undefined : (this.byTag.get(tagKey(row.tag)) ?? null);
    const here = tagged === undefined ? (this.at.get(key) ?? null) : tagged;
    if (row.event === "unplugged") {
      this.at.set(key, null);
      this.empty.add(key);
    } else if (tagged !== undefined) {
      this.at.set(key, tagged);
      this.empty.delete(key);
    }
    return here;
  }

  /** The receptacles that were left empty; a registry that was not told goes on naming their last appliance. */
  emptied(): string[] {
    return [...this.empty];
  }

  /** Notes receptacles that were left empty before; call it before `prepare`. */
  restoreEmptied(spots: readonly string[]): void {
    for (const key of spots) this.empty.add(key);
  }

  /** The appliance of a tag that was prepared. */
  ofTag(tag: string): string | null {
    return this.byTag.get(tagKey(tag)) ?? null;
  }
}
