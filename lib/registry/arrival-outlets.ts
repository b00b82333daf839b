import { tagKey } from "@/lib/identity/tag-code";
import { findSite } from "@/lib/store/arrival-queries";
import type { Db } from "@/lib/store/client";
import { appliancesByTag, outletsByName } from "@/lib/store/placement-queries";
import { nameKey } from "./place-name";

/** What is looked up is remembered this long: a renamed outlet counts this much later. */
const rememberMs = 10_000;
const mostNames = 200_000;

export interface ArrivalSite {
  readonly id: string;
  readonly organisationId: string;
  readonly name: string;
  readonly nameKey: string;
  readonly timeZone: string | null;
}

export interface KnownOutlet {
  readonly id: string;
  readonly siteId: string;
}

/** The outlets, tags and sites that arriving readings name, looked up once every few seconds and not for every batch. */
export class ArrivalOutlets {
  private readonly outlets = new Map<string, KnownOutlet | null>();
  private readonly tags = new Map<string, string | null>();
  private readonly sites = new Map<string, ArrivalSite | null>();
  private sinceMs = Number.NEGATIVE_INFINITY;

  constructor(private readonly db: Db) {}

  private refresh(now: Date): void {
    const isOld = now.getTime() - this.sinceMs > rememberMs || now.getTime() < this.sinceMs;
    if (!isOld && this.outlets.size + this.tags.size < mostNames) return;
    this.sinceMs = now.getTime();
    for (const memory of [this.outlets, this.tags, this.sites]) memory.clear();
  }

  /** The site of an id; null when there is none in use. */
  async site(organisationId: string, siteId: string, now: Date): Promise<ArrivalSite | null> {
    this.refresh(now);
    const key = `${organisationId} ${siteId}`;
    const known = this.sites.get(key);
    if (known !== undefined) return known;
    const found = await findSite(this.db, organisationId, siteId);
    this.sites.set(key, found);
    return found;
  }

  /** Finds the outlets of these names, as a log writes them. */
  async outletsOf(organisationId: string, names: ReadonlySet<string>): Promise<(name: string) => KnownOutlet | null> {
    const keyOf = (name: string) => `${organisationId} ${nameKey(name)}`;
    const missing = [...new Set([...names].filter((name) => !this.outlets.has(keyOf(name))).map(nameKey))];
    const found = missing.length === 0 ? [] : await outletsByName(this.db, organisationId, missing);
    for (const key of missing) this.outlets.set(`${organisationId} ${key}`, null);
    for (const { id, siteId, nameKey: key } of found) this.outlets.set(`${organisationId} ${key}`, { id, siteId });
    const byName = new Map([...names].map((name) => [name, this.outlets.get(keyOf(name)) ?? null]));
    return (name) => byName.get(name) ?? null;
  }

  /** Finds the sites at which the registry has the appliances of these tags; null where it knows no such tag. */
  async sitesOfTags(organisationId: string, tags: ReadonlySet<string>): Promise<(tag: string) => string | null> {
    const keyOf = (tag: string) => `${organisationId} ${tagKey(tag)}`;
    const missing = [...new Set([...tags].filter((tag) => !this.tags.has(keyOf(tag))).map(tagKey))].filter((key) => key !== "");
    const found = missing.length === 0 ? [] : await appliancesByTag(this.db, organisationId, missing);
    for (const key of missing) this.tags.set(`${organisationId} ${key}`, null);
    for (const { siteId, tagKey: key } of found) this.tags.set(`${organisationId} ${key}`, siteId);
    const byTag = new Map([...tags].map((tag) => [tag, this.tags.get(keyOf(tag)) ?? null]));
    return (tag) => byTag.get(tag) ?? null;
  }
}
