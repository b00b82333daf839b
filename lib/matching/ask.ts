import type { Answer, Ask } from "./candidate";
import type { Findings } from "./findings";
import { type Graded, grade, type Verdict } from "./grade";
import { statedWindows } from "./window-evidence";

const locationWords: Readonly<Record<Ask["field"], RegExp>> = {
  brand: /brand|logo|name/i,
  model: /model|item|style|sku|catalog/i,
  serial: /serial/i,
  dateCode: /date|batch|lot|code/i,
  made: /date|manufactur|made/i,
  product: /product/i,
  upc: /upc|barcode|bar code/i,
};

/** The notice's own words on where the fact is printed: the place it gives for this fact, else the only place it gives. */
function whereOf(field: Ask["field"], locations: readonly string[]): string | null {
  const named = locations.find((location) => locationWords[field].test(location));
  return named ?? (locations.length === 1 ? (locations[0] ?? null) : null);
}

const manyListed = 6;

function listed(values: readonly string[]): string {
  const shown = values.slice(0, manyListed).join(", ");
  return values.length > manyListed ? `${shown} or another of the ${values.length} listed` : shown;
}

type Confirmed = Partial<Pick<Findings, "model" | "brand" | "product" | "windows" | "exclusion">>;

/** What an answer leads to: the grade of the same findings with the answered field agreeing. */
function gradeWith(graded: Graded, confirmed: Confirmed): Answer["leadsTo"] {
  return grade({ ...graded, findings: { ...graded.findings, ...confirmed } }).grade;
}

function confirmedModel({ findings, notice, appliance }: Graded): Confirmed {
  const pattern = findings.model?.pattern ?? notice.include[0];
  const read = findings.model?.read ?? appliance.facts.model ?? "";
  return pattern ? { model: { level: "model.exact", pattern, read }, exclusion: null } : {};
}

/** A model asked for where none is known is graded as if it had been read. */
function gradeWithModel(graded: Graded): Answer["leadsTo"] {
  const confirmed = confirmedModel(graded);
  const appliance =
    graded.appliance.models.length > 0 ? graded.appliance : { ...graded.appliance, models: graded.notice.include.slice(0, 1) };
  return gradeWith({ ...graded, appliance }, confirmed);
}

/** Where maker and product are all that a notice states, a person who has compared the pictures is as sure as anyone can be. */
function isOpenAfter({ notice }: Graded, field: Ask["field"]): boolean {
  const { models } = notice.coverage;
  return field === "product" && models.stated !== "all" && (models.stated === "none" || models.include.length === 0);
}

function modelAsk(graded: Graded): Omit<Ask, "where"> {
  const { findings, notice } = graded;
  const { model } = findings;
  const targets = model === null ? notice.include.map(({ printed }) => printed) : [model.pattern.printed];
  const question = model === null ? "Which model does the plate name?" : `Does the plate read ${model.pattern.printed} or ${model.read}?`;
  const answers: Answer[] = [
    { label: listed(targets), leadsTo: gradeWithModel(graded) },
    {
      label: model === null ? "Another model" : `${model.read}, nothing else`,
      leadsTo: model?.level === "model.suffix_added" ? "check_label" : "not_covered",
    },
  ];
  return { field: "model", question, answers };
}

const codeQuestions = {
  serial: "Which serial number is on the plate?",
  dateCode: "Which date code is on the appliance?",
  made: "When was it made?",
} as const;

function windowAsk(graded: Graded, field: "serial" | "dateCode" | "made"): Omit<Ask, "where"> {
  const evidence = graded.findings.windows.evidence.find((one) => one.field === field);
  const stated = evidence ? statedWindows(evidence) : "what the notice says";
  return {
    field,
    question: codeQuestions[field],
    answers: [
      { label: stated, leadsTo: gradeWith(graded, { windows: { place: "inside", evidence: graded.findings.windows.evidence } }) },
      { label: "Any other", leadsTo: "not_covered" },
      { label: "It cannot be read", leadsTo: "check_label" },
    ],
  };
}

function nameAsk(graded: Graded, field: "brand" | "product" | "upc"): Omit<Ask, "where"> {
  const { coverage } = graded.notice;
  const named = field === "brand" ? coverage.brands : field === "product" ? coverage.products : coverage.upcs;
  const confirmed: Confirmed = field === "brand" ? { brand: "same" } : { product: "same" };
  const leadsTo = gradeWith(graded, confirmed);
  return {
    field,
    question: field === "brand" ? "Whose name is on the appliance?" : `Is it the product that the notice shows and describes?`,
    answers: [
      { label: named.length > 0 ? listed(named) : "Yes", leadsTo: isOpenAfter(graded, field) ? "likely" : leadsTo },
      { label: field === "brand" ? "Another name" : "Another product", leadsTo: "not_covered" },
    ],
  };
}

/** The question that would settle it, with what each answer leads to; `null` unless the verdict asks. */
export function askOf(graded: Graded, { ask: field }: Verdict): Ask | null {
  if (field === null) return null;
  const ask =
    field === "model"
      ? modelAsk(graded)
      : field === "serial" || field === "dateCode" || field === "made"
        ? windowAsk(graded, field)
        : nameAsk(graded, field);
  return { ...ask, where: whereOf(field, graded.notice.locations) };
}
