import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { siteScope } from "@/lib/access/site-scope";
import { makerKey } from "@/lib/identity/maker";
import { modelKey } from "@/lib/identity/model-number";
import type { Db } from "@/lib/store/client";
import { findKnownModels, findNoticeNames, latestRecordNumber } from "@/lib/store/suggestion-queries";
import { buildSuggestionIndex, type Suggestion, type SuggestionIndex } from "./suggestion-index";

type KnownModel = Awaited<ReturnType<typeof findKnownModels>>[number];
type NoticeName = Awaited<ReturnType<typeof findNoticeNames>>[number];

const count = (number: number, word: string) => `${number} ${word}${number === 1 ? "" : "s"}`;
const appliancesOf = (search: string) => `/appliances?${new URLSearchParams({ q: search })}`;
const noticesOf = (search: string) => `/recalls?${new URLSearchParams({ nq: search })}#notices`;

/** Each maker once: of the registry with how many appliances, of the notices with how many notices. */
function makerSuggestions(models: readonly KnownModel[], notices: readonly NoticeName[]): Suggestion[] {
  const makers = new Map<string, { name: string; appliances: number; notices: number }>();
  const entry = (name: string) => {
    const known = makers.get(makerKey(name)) ?? { name, appliances: 0, notices: 0 };
    makers.set(makerKey(name), known);
    return known;
  };
  for (const { brand, appliances } of models) if (brand !== null) entry(brand).appliances += appliances;
  for (const { brands } of notices) for (const brand of brands) entry(brand).notices++;
  return [...makers.values()].map(({ name, appliances, notices: named }) => ({
    kind: "maker",
    label: name,
    detail: `${count(appliances, "appliance")}, ${count(named, "notice")}`,
    href: named > 0 ? noticesOf(name) : appliancesOf(name),
  }));
}

/** Each model once, however it is written: of the registry first, then those that only notices name. */
function modelSuggestions(models: readonly KnownModel[], notices: readonly NoticeName[]): Suggestion[] {
  const keyOf = (brand: string | null, model: string) => `${makerKey(brand ?? "")} ${modelKey(model)}`;
  const known = new Map<string, { brand: string | null; model: string; appliances: number }>();
  for (const { brand, model, appliances } of models) {
    if (model === null) continue;
    const one = known.get(keyOf(brand, model)) ?? { brand, model, appliances: 0 };
    known.set(keyOf(brand, model), { ...one, appliances: one.appliances + appliances });
  }
  const label = (brand: string | null | undefined, model: string) => `${brand ?? ""} ${model}`.trim();
  const found = new Map<string, Suggestion>();
  for (const [key, { brand, model, appliances }] of known)
    found.set(key, { kind: "model", label: label(brand, model), detail: count(appliances, "appliance"), href: appliancesOf(model) });
  for (const { number, brands, models: listed, id } of notices) {
    for (const model of listed) {
      const key = keyOf(brands[0] ?? null, model);
      if (!found.has(key))
        found.set(key, { kind: "model", label: label(brands[0], model), detail: `in notice ${number}`, href: `/recalls/${id}` });
    }
  }
  return [...found.values()];
}

function noticeSuggestions(notices: readonly NoticeName[]): Suggestion[] {
  return notices.map(({ id, number, date, title }) => ({
    kind: "notice",
    label: `${number} ${title}`,
    detail: date ?? "no date",
    href: `/recalls/${id}`,
  }));
}

async function build(db: Db, actor: Actor): Promise<SuggestionIndex> {
  const [models, notices] = await Promise.all([findKnownModels(db, siteScope(actor)), findNoticeNames(db, actor.organisationId)]);
  return buildSuggestionIndex([...makerSuggestions(models, notices), ...modelSuggestions(models, notices), ...noticeSuggestions(notices)]);
}

interface Kept {
  readonly index: Promise<SuggestionIndex>;
  readonly record: number;
  readonly builtAt: number;
}

const kept = new Map<string, Kept>();
const mostKept = 8;
/** A change is found after this time at the latest; building at every edit would cost more than it gives. */
const oldestMs = 30_000;

async function getIndex(db: Db, actor: Actor, now: Date): Promise<SuggestionIndex> {
  const { organisationId, siteIds } = actor;
  const key = [organisationId, ...(siteIds === "all" ? ["all"] : [...siteIds].sort())].join();
  const known = kept.get(key);
  const record = await latestRecordNumber(db, organisationId);
  if (known && (known.record === record || now.getTime() - known.builtAt < oldestMs)) return known.index;
  const index = build(db, actor);
  index.catch(() => kept.delete(key));
  kept.delete(key);
  kept.set(key, { index, record, builtAt: now.getTime() });
  for (const oldest of kept.keys()) if (kept.size > mostKept) kept.delete(oldest);
  return index;
}

/**
 * What a search box offers for what is typed so far: makers, models and notices that read like it, a slip or two forgiven. Appliances
 * count only where the actor may see their site. Permission: `see recalls`.
 */
export async function suggest(db: Db, actor: Actor, { typed, now }: { readonly typed: string; readonly now: Date }): Promise<Suggestion[]> {
  requirePermission(actor, "see recalls");
  return (await getIndex(db, actor, now)).suggest(typed);
}
