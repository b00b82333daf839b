import { toGtin14 } from "@/lib/identity/gtin";
import type { CodeWindow, Coverage, MadeWindow } from "@/lib/notices/coverage";
import { type ModelPattern, modelPattern, withVariants } from "./model-pattern";
import { type ProductName, productName } from "./product-kind";

/** What a notice is indexed from: its key, what it covers, and its own words. */
export interface NoticeToIndex {
  readonly key: string;
  readonly coverage: Coverage;
  readonly notice: { readonly title: string; readonly description: string };
}

/** The windows that a notice states over one field. */
export interface FieldWindows {
  readonly field: "serial" | "dateCode" | "made";
  readonly windows: readonly (CodeWindow | MadeWindow)[];
  /** Whether some are tied to models or brands. */
  readonly areTied: boolean;
}

/** A notice prepared for comparing. What every comparison asks stands first, close together in memory. */
export interface CoveredNotice {
  /** Whether it gives models to compare with. */
  readonly isListing: boolean;
  /** Whether it tells appliances apart by serial number, date code or day of manufacture. */
  readonly hasWindows: boolean;
  readonly hasExclusions: boolean;
  readonly key: string;
  readonly include: readonly ModelPattern[];
  /** The fields over which it states windows. */
  readonly windows: readonly FieldWindows[];
  readonly coverage: Coverage;
  readonly exclude: readonly ModelPattern[];
  readonly makerIds: readonly number[];
  readonly products: readonly ProductName[];
  readonly gtins: ReadonlySet<string>;
  /** Words of the title and of the whole text, singular and plural as they stand, padded by blanks for whole-word search. */
  readonly titleWords: string;
  readonly textWords: string;
  /** Where the notice says its facts are printed, in its own words. */
  readonly locations: readonly string[];
}

/** Empty for a text without words. */
function searchable(text: string): string {
  const words = text
    .toLowerCase()
    .split(/[^a-z0-9]+/)
    .join(" ")
    .trim();
  return words === "" ? "" : ` ${words} `;
}

function patterns(printed: readonly string[]): ModelPattern[] {
  return printed.flatMap((text) => modelPattern(text) ?? []);
}

/** Longest beginning that may only describe the list behind it. */
const longestDescription = 3;

/** "Model numbers beginning with PB: PB-113, PB-123 ..." lists two models; its beginning is no statement of its own. */
function withoutDescriptions(include: readonly ModelPattern[]): ModelPattern[] {
  return include.filter((pattern) => {
    const isShort =
      pattern.beginning.length <= longestDescription && pattern.key === `${pattern.beginning}*` && !/\d/.test(pattern.beginning);
    return !isShort || !include.some((other) => other !== pattern && !other.isOpen && other.key.startsWith(pattern.beginning));
  });
}

function windowsOf({ serials, dateCodes, made }: Coverage): FieldWindows[] {
  const ofField = (field: FieldWindows["field"], windows: FieldWindows["windows"]): FieldWindows[] =>
    windows.length === 0 ? [] : [{ field, windows, areTied: windows.some((window) => (window.for?.length ?? 0) > 0) }];
  return [...ofField("serial", serials), ...ofField("dateCode", dateCodes), ...ofField("made", made)];
}

function locationsOf({ coverage, notice }: NoticeToIndex): string[] {
  return coverage.spans
    .filter((span) => span.kind === "location")
    .map((span) => {
      const text = span.field === "description" || span.field === "title" ? notice[span.field] : null;
      return (text?.slice(span.start, span.end) ?? span.reads).replace(/\s+/g, " ").trim();
    })
    .filter((text) => text !== "");
}

/** Prepares a notice; `makerIdOf` gives the id of each brand it names. */
export function coveredNotice(given: NoticeToIndex, makerIdOf: (name: string) => number | undefined): CoveredNotice {
  const { key, coverage, notice } = given;
  const include = withVariants(withoutDescriptions(patterns(coverage.models.include)));
  const exclude = patterns(coverage.models.exclude);
  const windows = windowsOf(coverage);
  return {
    isListing: coverage.models.stated === "listed" && include.length > 0,
    hasWindows: windows.length > 0,
    hasExclusions: exclude.length > 0,
    key,
    include,
    windows,
    coverage,
    exclude,
    makerIds: [...new Set(coverage.brands.flatMap((brand) => makerIdOf(brand) ?? []))],
    products: coverage.products.map(productName),
    gtins: new Set(coverage.upcs.flatMap((upc) => toGtin14(upc) ?? [])),
    titleWords: searchable(notice.title),
    textWords: searchable(`${notice.title} ${notice.description}`),
    locations: locationsOf(given),
  };
}
