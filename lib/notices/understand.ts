import { saysAll } from "./all-models";
import { nameKey } from "./brand-names";
import { brandsOf } from "./brands";
import type { Coverage } from "./coverage";
import { type Draft, emptyDraft } from "./draft";
import { locationSpans } from "./locations";
import { joinMade } from "./made-span";
import { modelLettersBefore, modelNamesBefore } from "./model-names";
import { weighModels } from "./models";
import { nameSpans } from "./name-spans";
import type { Notice } from "./notice";
import { descriptionPassage, type Passage, passage, readablePart } from "./passage";
import { productsOf } from "./products";
import { type ProseReading, passageTokens, readProse } from "./read-prose";
import { readStated } from "./stated-columns";
import { tieWindows } from "./tie-windows";
import { unreadSpans } from "./unread";
import { findExcludedCodes, findNamedCodes, findPrintedCodes, findReadCodes, findSubjectCodes } from "./weak-models";
import { type WildcardMeaning, wildcardMeaning } from "./wildcards";

/**
 * What a notice says it covers, read from its prose and columns. Never fails: a notice that states nothing gives a
 * coverage without identifiers. The same notice always gives the same coverage.
 */
export function understand(published: Notice): Coverage {
  const notice = readablePart(published);
  const description = descriptionPassage(notice);
  const meaning = wildcardMeaning(description.clean);
  const draft = emptyDraft();
  const tokens = passageTokens(description);
  readDescription({ passage: description, tokens, meaning, title: notice.title, draft }, nameKey(namesOf(notice)));
  for (const named of namePassages(notice)) readName(named, meaning, notice.title, draft);
  readStated(notice, meaning, draft);
  const models = weighModels(draft, meaning, saysAll(description.clean));
  const brands = brandsOf(notice, description);
  const products = productsOf(notice);
  const statements = [...models.spans, ...draft.spans];
  const named = nameSpans(notice, description, brands, "brand");
  return {
    notice: notice.number,
    brands,
    products,
    models: models.coverage,
    serials: tieWindows(draft.serials, models.rows),
    dateCodes: tieWindows(draft.dateCodes, models.rows),
    made: joinMade(tieWindows(draft.made, models.rows)),
    upcs: [...new Set(draft.upcs)],
    spans: [
      ...statements,
      ...unreadSpans(description, tokens, [...statements, ...named]),
      ...named,
      ...nameSpans(notice, description, products, "product"),
      ...locationSpans(description),
    ],
  };
}

function namesOf({ title, productNames, makers, importers, distributors }: Notice): string {
  return [title, ...productNames, ...makers, ...importers, ...distributors].join(" ");
}

function readDescription(reading: ProseReading, names: string): void {
  const { passage: description, tokens, title, draft } = reading;
  readProse(reading);
  for (const item of [...modelNamesBefore(tokens), ...modelLettersBefore(tokens, names)])
    draft.models.push({ passage: description, item, evidence: "name", excluded: false, conditional: false, row: null });
  findPrintedCodes(description, tokens, title, draft);
  findReadCodes(description, tokens, draft);
  findSubjectCodes(description, tokens, draft);
  findExcludedCodes(reading);
}

function namePassages(notice: Notice): Passage[] {
  return [
    passage("title", notice.title),
    ...notice.productNames.map((name, at) => passage("productNames", name, at)),
    ...notice.makers.map((name, at) => passage("makers", name, at)),
  ];
}

/** Title, product names, and the makers' fields, in which some lists put the product: models called so, else codes. */
function readName(named: Passage, meaning: WildcardMeaning, title: string, draft: Draft): void {
  const tokens = passageTokens(named);
  readProse({ passage: named, tokens, meaning, title, draft });
  findNamedCodes(named, tokens, draft);
}
