import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { Trouble } from "@/lib/access/trouble";
import type { Db } from "@/lib/store/client";
import { addressChoice, addressPage, addressText } from "./address-fields";
import { endOfDay, type SiteAsOf, siteAsOf, siteDay } from "./as-of";
import type { ApplianceThen, FindingThen } from "./as-of-fold";
import { getSite } from "./place-building";
import { foldText, searchWords } from "./search-text";

/** The page's state in its address. */
export const thenQuery = z.object({
  day: addressText,
  q: addressText,
  state: addressChoice(["in_use", "out_of_use", "retired"]),
  told: addressChoice(["no"]),
  page: addressPage,
});
export type ThenQuery = z.output<typeof thenQuery>;

export const appliancesAPage = 50;

type Names = ReadonlyMap<string, string>;

/** Names of a site's places and of the people, as they are now, by id. */
export interface ThenNames {
  readonly units: Names;
  readonly outlets: Names;
  readonly circuits: Names;
  readonly people: Names;
  readonly appliances: ReadonlyMap<string, ApplianceThen>;
}

/** What was known of a site on a day, with what is asked for of it picked out. */
export interface SiteThen {
  readonly then: SiteAsOf;
  readonly names: ThenNames;
  /** Open then, the strongest word first. */
  readonly openFindings: readonly FindingThen[];
  readonly byState: Readonly<Record<ApplianceThen["state"], number>>;
  /** Appliances whose facts may be later ones. */
  readonly uncertain: number;
  /** Open findings of which the record does not say when they were due. */
  readonly undated: number;
  /** Every appliance that the search and the filters leave. */
  readonly found: readonly ApplianceThen[];
}

export interface ThenPage {
  readonly site: { readonly id: string; readonly name: string; readonly timeZone: string | null };
  readonly day: string;
  readonly today: string;
  /** One sentence where the day is none; then there is nothing to show. */
  readonly problem: string | null;
  readonly known: SiteThen | null;
}

function namesOf({ names, appliances }: SiteAsOf): ThenNames {
  const byId = (rows: readonly { readonly id: string; readonly name: string }[]) => new Map(rows.map(({ id, name }) => [id, name]));
  return {
    units: byId(names.units),
    outlets: byId(names.outlets),
    circuits: byId(names.circuits),
    people: new Map(names.members.map(({ userId, user }) => [userId, user.name])),
    appliances: new Map(appliances.map((row) => [row.id, row])),
  };
}

/** Where an appliance was, in words: unit, outlet and receptacle; null where nothing is known but the site. */
export function whereThen(
  { unitId, outletId, receptacle }: Pick<ApplianceThen, "unitId" | "outletId" | "receptacle">,
  { units, outlets }: Pick<ThenNames, "units" | "outlets">,
): string | null {
  const unit = units.get(unitId ?? "");
  const outlet = outlets.get(outletId ?? "");
  return [unit && `unit ${unit}`, outlet, outlet && receptacle && `receptacle ${receptacle}`].filter(Boolean).join(", ") || null;
}

function matches(names: ThenNames, { q, state, told }: ThenQuery): (row: ApplianceThen) => boolean {
  const words = searchWords(q ?? "");
  return (row) => {
    if (state !== undefined && row.state !== state) return false;
    if (told === "no" && row.isCertain) return false;
    const text = foldText([row.tag, row.brand, row.model, row.serial, row.category, whereThen(row, names)].join(" "));
    return words.every((word) => text.includes(word));
  };
}

/** Picks out of a site's state what a page or a file asks for. */
export function pickThen(then: SiteAsOf, query: ThenQuery): SiteThen {
  const names = namesOf(then);
  const byState = { in_use: 0, out_of_use: 0, retired: 0 };
  for (const { state } of then.appliances) byState[state]++;
  const openFindings = then.findings.filter(({ state }) => state !== "closed");
  return {
    ...{ then, names, byState, openFindings },
    uncertain: then.appliances.filter(({ isCertain }) => !isCertain).length,
    undated: openFindings.filter(({ dueAt }) => dueAt === null).length,
    found: then.appliances.filter(matches(names, query)),
  };
}

/**
 * The state of a site as it was known when a day of its calendar ended, or so far where that is today. A day that is none comes back as
 * a sentence. Permission: those of `siteAsOf`.
 */
export async function viewSiteThen(
  db: Db,
  actor: Actor,
  asked: { readonly siteId: string; readonly query: ThenQuery; readonly now: Date },
): Promise<ThenPage> {
  const { id, name, timeZone } = await getSite(db, actor, asked.siteId);
  const today = siteDay(timeZone, asked.now);
  const day = asked.query.day ?? today;
  const page = { site: { id, name, timeZone }, day, today };
  try {
    const end = endOfDay(timeZone, day, asked.now);
    const at = new Date(Math.min(end.getTime(), asked.now.getTime()));
    const then = await siteAsOf(db, actor, { siteId: id, at });
    return { ...page, problem: null, known: pickThen(then, asked.query) };
  } catch (error) {
    if (error instanceof Trouble && error.code === "not_valid") return { ...page, problem: error.message, known: null };
    throw error;
  }
}
