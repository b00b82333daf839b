import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { fitPattern, patternKey } from "@/lib/identity/code-pattern";
import { compareMade } from "@/lib/identity/made";
import { modelKey } from "@/lib/identity/model-number";
import type { Random } from "./random";
import { corrupt, type ErrorKind } from "./reading-errors";
import { type Family, filled, memberOf, type SyntheticNotice, type World } from "./synthetic-world";

/** An invented registry beside its truth: the notices that cover the clean record. */
export interface SyntheticRegistry {
  readonly appliances: readonly ApplianceFacts[];
  /** Keys of the covering notices; only for the appliances that have any. */
  readonly truth: ReadonlyMap<string, readonly string[]>;
  readonly errors: ReadonlyMap<string, readonly ErrorKind[]>;
}

/** Which notices cover a clean record: brand and a pattern and no exclusion and the manufacture window. */
function makeTruth(world: World): (clean: CleanRecord) => string[] {
  const byBrand: SyntheticNotice[][] = world.brands.map(() => []);
  for (const notice of world.notices) {
    if (notice.toIndex.coverage.models.include.length > 0) for (const id of new Set(notice.brandIds)) byBrand[id]?.push(notice);
  }
  const fits = (patterns: readonly string[], key: string): boolean => patterns.some((pattern) => fitPattern(pattern, key) === "exact");
  const prepared = byBrand.map((notices) =>
    notices.map(({ toIndex: { key, coverage } }) => ({
      key,
      include: coverage.models.include.map(patternKey),
      exclude: coverage.models.exclude.map(patternKey),
      made: coverage.made,
    })),
  );
  return ({ brand, model, made }) => {
    const key = modelKey(model);
    return (prepared[brand] ?? [])
      .filter(
        (notice) =>
          fits(notice.include, key) && !fits(notice.exclude, key) && notice.made.every((window) => compareMade(made, window) === "inside"),
      )
      .map((notice) => notice.key);
  };
}

interface CleanRecord {
  readonly brand: number;
  readonly model: string;
  readonly kind: string;
  readonly made: string;
}

function madeInside(random: Random, notice: SyntheticNotice): string {
  const window = notice.toIndex.coverage.made[0];
  return window?.to ? `${window.to.slice(0, 4)}-01` : `${2006 + random.below(19)}-0${1 + random.below(9)}`;
}

/** A model that a notice's pattern stands for. */
function listedModel(random: Random, pattern: string): string {
  return pattern.replace(/[*#]/g, () => filled(random, "0")).replace(/@/g, () => filled(random, "A"));
}

function noticeWithModels(random: Random, world: World): SyntheticNotice {
  for (;;) {
    const notice = random.pick(world.notices);
    if (notice.toIndex.coverage.models.include.length > 0) return notice;
  }
}

function drawRecord(random: Random, world: World): CleanRecord {
  const draw = random.next();
  const date = `${2006 + random.below(19)}-0${1 + random.below(9)}`;
  const notice = noticeWithModels(random, world);
  const { include } = notice.toIndex.coverage.models;
  if (draw < 0.03) {
    return {
      brand: notice.brandIds[0] ?? 0,
      model: listedModel(random, random.pick(include)),
      kind: notice.kind,
      made: madeInside(random, notice),
    };
  }
  const id = draw < 0.13 ? random.pick(notice.familyIds) : random.below(world.families.length);
  const family = world.families[id] as Family;
  return { brand: family.brand, model: memberOf(random, family), kind: family.kind, made: date };
}

export interface RegistrySize {
  readonly appliances: number;
  readonly level: number;
  /** Keep truth and errors, which only the quality measures need. */
  readonly withTruth: boolean;
}

/** 3 % drawn from notices, 10 % members of a recalled family, the rest of any family. */
export function makeRegistry(random: Random, world: World, size: RegistrySize): SyntheticRegistry {
  const covering = size.withTruth ? makeTruth(world) : () => [];
  const truth = new Map<string, readonly string[]>();
  const errorsOf = new Map<string, readonly ErrorKind[]>();
  const appliances = Array.from({ length: size.appliances }, (_, at) => {
    const clean = drawRecord(random, world);
    const id = `A${at}`;
    const facts: ApplianceFacts = {
      id,
      brand: world.brands[clean.brand] ?? null,
      model: clean.model,
      serial: null,
      dateCode: null,
      made: clean.made,
      category: clean.kind,
      upc: null,
      labelText: null,
    };
    const corrupted = corrupt(random, facts, size.level);
    const notices = covering(clean);
    if (notices.length > 0) truth.set(id, notices);
    if (size.withTruth) errorsOf.set(id, corrupted.errors);
    return corrupted.facts;
  });
  return { appliances, truth, errors: errorsOf };
}
