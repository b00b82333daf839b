import { createHash } from "node:crypto";
import { type DeviationSetName, usualDeviationSet } from "@/lib/electrical/deviation-sets";
import { loadKindOf } from "@/lib/electrical/load-kind";
import { allowedInput, ratedInput } from "@/lib/electrical/permitted-deviation";
import type { Rating } from "@/lib/electrical/rating";
import { readRating } from "@/lib/electrical/read-rating";
import { makerKey } from "@/lib/identity/maker";
import { modelKey } from "@/lib/identity/model-number";
import { readPlateIdentity } from "@/lib/identity/plate-identity";
import { tagKey } from "@/lib/identity/tag-code";
import { foldedModelOf } from "@/lib/matching/appliance-reading";
import { labelFactNames } from "@/lib/store/appliance-selects";
import { remember } from "./remember";
import { foldCode, foldText } from "./search-text";

/** What a labels row or a form says of one appliance, apart from its tag and place. `null` is unknown, never zero. */
export interface LabelFacts {
  readonly category: string | null;
  readonly brand: string | null;
  readonly model: string | null;
  readonly serial: string | null;
  /** `YYYY`, `YYYY-MM` or `YYYY-MM-DD`. */
  readonly made: string | null;
  readonly dateCode: string | null;
  /** Volts as printed: `120`, `100-240`, `120/240`. */
  readonly ratedVolts: string | null;
  readonly ratedHertz: string | null;
  readonly ratedWatts: number | null;
  readonly ratedAmps: number | null;
  readonly labelText: string | null;
  readonly protectionClass: string | null;
  readonly maxLampWatts: string | null;
  readonly mark: string | null;
  readonly upc: string | null;
  readonly owner: string | null;
  readonly notes: string | null;
}

/** The columns of the Appliance row that follow from its facts; model, serial and date code come from the plate's text where their own are empty. */
export interface ApplianceColumns {
  readonly tagKey: string;
  readonly model: string | null;
  readonly serial: string | null;
  readonly dateCode: string | null;
  readonly inputWatts: number | null;
  readonly inputAmps: number | null;
  readonly allowedWatts: number | null;
  readonly allowedAmps: number | null;
  /** One sentence a line. */
  readonly contradictions: string | null;
  readonly searchText: string;
  readonly brandKey: string;
  readonly modelKey: string;
  /** What recalls look it up by: see `foldedModelOf`. */
  readonly foldedModel: string | null;
  readonly contentHash: string;
}

/** The rating of stored or typed facts: the columns first, the plate's text fills what is empty. */
export function ratingOf(
  facts: Pick<LabelFacts, "ratedVolts" | "ratedHertz" | "ratedWatts" | "ratedAmps" | "labelText" | "protectionClass" | "maxLampWatts">,
): Rating {
  const { ratedVolts, ratedHertz, labelText, protectionClass, maxLampWatts } = facts;
  const ratedWatts = facts.ratedWatts === null ? null : String(facts.ratedWatts);
  const ratedAmps = facts.ratedAmps === null ? null : String(facts.ratedAmps);
  return readRating({ ratedVolts, ratedHertz, ratedWatts, ratedAmps, labelText, protectionClass, maxLampWatts });
}

const plateIdentity = remember(4_000, (labelText: string) => labelText, readPlateIdentity);

/** Facts with model, serial and date code filled from the plate's text where their own are empty. */
export function filledFacts(facts: LabelFacts): LabelFacts {
  if (facts.labelText === null || (facts.model !== null && facts.serial !== null && facts.dateCode !== null)) return facts;
  const plate = plateIdentity(facts.labelText);
  return {
    ...facts,
    model: facts.model ?? plate.model,
    serial: facts.serial ?? plate.serial,
    dateCode: facts.dateCode ?? plate.dateCode,
  };
}

/** SHA-256 of the filled facts, in a fixed order: equal when and only when nothing differs. The tag and the place are not part of it. */
export function factsHash(facts: LabelFacts): string {
  return filledFactsHash(filledFacts(facts));
}

function filledFactsHash(filled: LabelFacts): string {
  return createHash("sha256")
    .update(JSON.stringify(labelFactNames.map((name) => filled[name])))
    .digest("hex");
}

function searchTextOf(tag: string, facts: LabelFacts): string {
  const { brand, model, serial, category, upc, owner, notes, labelText } = facts;
  const codes = [tag, model, serial].map((code) => (code === null ? "" : foldCode(code)));
  const words = [tag, brand, model, serial, category, upc, owner, notes, labelText].map((text) => (text === null ? "" : foldText(text)));
  return [...new Set([...words, ...codes])].filter((text) => text !== "").join(" ");
}

/** What decides limits besides the plate: the site's nominal voltage, and the standard and edition it goes by. */
export interface SiteSupply {
  readonly volts: number | null;
  readonly deviation: DeviationSetName;
}
/** A bare figure is the nominal voltage with the usual standard. */
export type Supply = SiteSupply | number | null;

function supplyOf(supply: Supply): SiteSupply {
  return supply !== null && typeof supply === "object" ? supply : { volts: supply, deviation: usualDeviationSet };
}

type JudgedPlate = Pick<ApplianceColumns, "inputWatts" | "inputAmps" | "allowedWatts" | "allowedAmps" | "contradictions">;

/** What the plate gives at the site's voltage. */
const judgedPlate = remember(
  4_000,
  (
    { ratedVolts, ratedHertz, ratedWatts, ratedAmps, labelText, protectionClass, maxLampWatts, category }: LabelFacts,
    { volts, deviation }: SiteSupply,
  ) => [ratedVolts, ratedHertz, ratedWatts, ratedAmps, labelText, protectionClass, maxLampWatts, category, volts, deviation].join("\u001f"),
  (facts: LabelFacts, { volts, deviation }: SiteSupply): JudgedPlate => {
    const rating = ratingOf(facts);
    const rated = ratedInput(rating, volts);
    const allowed = allowedInput(rating, loadKindOf(facts.category), volts, deviation);
    return {
      inputWatts: rated.watts,
      inputAmps: rated.amps,
      allowedWatts: allowed.watts,
      allowedAmps: allowed.amps,
      contradictions: rating.contradictions.length === 0 ? null : rating.contradictions.join("\n"),
    };
  },
);

/**
 * Derives an Appliance row's folded, parsed and hashed columns from what is known of it. `supply` is the site's nominal voltage, which
 * chooses among pairs such as `240/208V 4500/3380W`, and the standard it goes by. Pure but for the hash; the same facts give the same columns.
 */
export function applianceColumns(tag: string, facts: LabelFacts, supply: Supply = null): ApplianceColumns {
  const filled = filledFacts(facts);
  return {
    tagKey: tagKey(tag),
    model: filled.model,
    serial: filled.serial,
    dateCode: filled.dateCode,
    ...judgedPlate(filled, supplyOf(supply)),
    searchText: searchTextOf(tag, filled),
    brandKey: filled.brand === null ? "" : makerKey(filled.brand),
    modelKey: filled.model === null ? "" : modelKey(filled.model),
    foldedModel: foldedModelOf({ id: "", ...filled }),
    contentHash: filledFactsHash(filled),
  };
}
