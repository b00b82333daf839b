import type { Answer, Ask } from "./candidate";
import type { Findings } from "./findings";
import { type Graded, grade, type Verdict } from "./grade";
import { beginningOf, signsMeaning } from "./pattern-words";
import { whereOf } from "./printed-where";
import { statedWindows } from "./window-evidence";

const manyListed = 6;

/** A listed model in a person's words: `AB-1*` is any that begins with AB-1. */
function patternWords(printed: string): string {
  const beginning = beginningOf(printed);
  return beginning === null ? printed + signsMeaning(printed.replaceAll("X", "x")) : `any that begins with ${beginning}`;
}

function listed(values: readonly string[]): string {
  const shown = values.slice(0, manyListed).join(", ");
  return values.length > manyListed ? `${shown} or another of the ${values.length} listed` : shown;
}

type Confirmed = Partial<Pick<Findings, "model" | "brand" | "product" | "windows" | "exclusion" | "hasSameUpc">>;
type Question = Omit<Ask, "where">;

/** What an answer leads to: the grade of the same findings with the answered field agreeing. */
function gradeWith(graded: Graded, confirmed: Confirmed): Answer["leadsTo"] {
  return grade({ ...graded, findings: { ...graded.findings, ...confirmed } }).grade;
}

const unread: Answer = { label: "It cannot be read", leadsTo: "check_label" };

/** A model asked for where none is known is graded as if the first listed one had been read. */
function gradeWithModel(graded: Graded): Answer["leadsTo"] {
  const { findings, notice, appliance } = graded;
  const pattern = findings.model?.pattern ?? notice.include[0];
  if (!pattern) return gradeWith({ ...graded, appliance: withModelRead(graded) }, { exclusion: null });
  const read = findings.model?.read ?? appliance.facts.model ?? pattern.printed;
  return gradeWith({ ...graded, appliance: withModelRead(graded) }, { model: { level: "model.exact", pattern, read }, exclusion: null });
}

function withModelRead({ appliance, notice }: Graded): Graded["appliance"] {
  const models = notice.include.length > 0 ? notice.include : notice.exclude;
  return appliance.models.length > 0 ? appliance : { ...appliance, models: models.slice(0, 1) };
}

/** No model is known: which is it? */
function missingModelAsk(graded: Graded): Question {
  const { include, exclude } = graded.notice;
  const isIn: Answer = { label: listed(include.map(({ printed }) => patternWords(printed))), leadsTo: gradeWithModel(graded) };
  const isOut: Answer = { label: listed(exclude.map(({ printed }) => patternWords(printed))), leadsTo: "not_covered" };
  const answers: Answer[] =
    include.length > 0
      ? [isIn, { label: "Another model", leadsTo: "not_covered" }]
      : [isOut, { label: "Another model", leadsTo: gradeWithModel(graded) }];
  return { field: "model", question: "Which model does the rating plate name?", answers: [...answers, unread] };
}

/** The notice excludes a model that this one may be. */
function excludedModelAsk(graded: Graded, exclusion: NonNullable<Findings["exclusion"]>): Question {
  const read = graded.findings.model?.read ?? graded.appliance.facts.model ?? "";
  const isAffected: Answer = { label: exclusion.isVariant ? `${read} is affected` : read, leadsTo: gradeWithModel(graded) };
  const isExcluded: Answer = {
    label: exclusion.isVariant ? `It is a variant of ${exclusion.printed}, not affected` : exclusion.printed,
    leadsTo: "not_covered",
  };
  const question = exclusion.isVariant
    ? `The notice excludes ${exclusion.printed}. Does the maker count ${read} as that model?`
    : `Does the plate read ${read} or ${exclusion.printed}, which the notice excludes?`;
  return { field: "model", question, answers: [isAffected, isExcluded, unread] };
}

function modelAsk(graded: Graded): Question {
  const { model, exclusion } = graded.findings;
  if (exclusion) return excludedModelAsk(graded, exclusion);
  if (model === null) return missingModelAsk(graded);
  const { printed } = model.pattern;
  const other: Answer =
    model.level === "model.suffix_added"
      ? { label: `${model.read}: ask the maker, the notice does not name this suffix`, leadsTo: "check_label" }
      : { label: `${model.read}, nothing else`, leadsTo: "not_covered" };
  return {
    field: "model",
    question: `Does the plate read ${printed} or ${model.read}?`,
    answers: [{ label: patternWords(printed), leadsTo: gradeWithModel(graded) }, other, unread],
  };
}

const codeQuestions = {
  serial: "Which serial number is on the plate?",
  dateCode: "Which date code is on the appliance?",
  made: "When was it made?",
} as const;

function windowAsk(graded: Graded, field: "serial" | "dateCode" | "made"): Question {
  const { evidence } = graded.findings.windows;
  const asked = evidence.find((one) => one.field === field);
  const inside = evidence.flatMap((one) => (one.field === field ? [{ ...one, place: "inside" as const }] : []));
  return {
    field,
    question: codeQuestions[field],
    answers: [
      {
        label: asked ? statedWindows(asked) : "What the notice says",
        leadsTo: gradeWith(graded, { windows: { place: "inside", evidence: inside } }),
      },
      { label: "Any other", leadsTo: "not_covered" },
      unread,
    ],
  };
}

function brandAsk(graded: Graded): Question {
  const { brands } = graded.notice.coverage;
  return {
    field: "brand",
    question: "Whose name is on the appliance?",
    answers: [
      { label: brands.length > 0 ? listed(brands) : "The notice's maker", leadsTo: gradeWith(graded, { brand: "same" }) },
      { label: "Another name", leadsTo: "not_covered" },
      { label: "No name, or it cannot be read", leadsTo: "check_label" },
    ],
  };
}

/** Where maker and product are all that a notice states, a person who has compared the pictures is as sure as anyone can be. */
function isOpenAfter({ notice }: Graded): boolean {
  const { models } = notice.coverage;
  return models.stated !== "all" && (models.stated === "none" || models.include.length === 0);
}

function productAsk(graded: Graded): Question {
  const { products } = graded.notice.coverage;
  return {
    field: "product",
    question: "Is it the product that the notice shows and describes?",
    answers: [
      {
        label: products.length > 0 ? listed(products) : "Yes",
        leadsTo: isOpenAfter(graded) ? "likely" : gradeWith(graded, { product: "same" }),
      },
      { label: "Another product", leadsTo: "not_covered" },
      { label: "It cannot be told", leadsTo: "check_label" },
    ],
  };
}

function upcAsk(graded: Graded): Question {
  return {
    field: "upc",
    question: "Which product number (UPC) stands below the bar code?",
    answers: [
      { label: listed(graded.notice.coverage.upcs), leadsTo: gradeWith(graded, { hasSameUpc: true }) },
      { label: "Another number, or none", leadsTo: "check_label" },
    ],
  };
}

/** The question that would settle it, with what each answer leads to; `null` unless the verdict asks. */
export function askOf(graded: Graded, { ask: field }: Verdict): Ask | null {
  if (field === null) return null;
  const question = {
    model: modelAsk,
    brand: brandAsk,
    product: productAsk,
    upc: upcAsk,
    serial: (one: Graded) => windowAsk(one, "serial"),
    dateCode: (one: Graded) => windowAsk(one, "dateCode"),
    made: (one: Graded) => windowAsk(one, "made"),
  }[field](graded);
  return { ...question, where: whereOf(field, graded.notice.locations) };
}
