import type { ProofOutcome } from "./negative-proof";

/** What a statement is made of. */
export interface ProofFacts {
  readonly site: string;
  /** The tag, where it is of one appliance. */
  readonly tag: string | null;
  /** The instant of the comparison in words, with its zone. */
  readonly at: string;
  readonly appliances: number;
  readonly counts: Readonly<Record<ProofOutcome, number>>;
  readonly lists: number;
  readonly notices: number;
  /** Notices that say less than they should. */
  readonly unproved: number;
}

const number = (count: number) => count.toLocaleString("en-US");
const things = (count: number, one: string, many: string) => `${number(count)} ${count === 1 ? one : many}`;

function subject({ site, tag, appliances }: ProofFacts): string {
  return tag === null ? `${things(appliances, "appliance", "appliances")} of ${site}, not retired,` : `The appliance ${tag} of ${site}`;
}

function result({ tag, counts, appliances }: ProofFacts): string {
  const { not_found, cleared, affected } = counts;
  const open = counts.open + counts.unsure;
  const untold = counts.not_checked + counts.unanswered + counts.in_part;
  if (tag !== null) {
    if (not_found === 1) return "It was compared by maker and model, or by UPC, and is on none of these lists, or a fact rules it out.";
    if (cleared === 1) return "A notice named it, and a person decided, with a reason, that it is not affected.";
    if (affected === 1) return "A person confirmed that a notice covers it.";
    return open === 1
      ? "A notice may cover it, and this is not settled: treat it as covered."
      : "It could not be checked in full; why is said below.";
  }
  return [
    `Of these ${number(appliances)}: ${number(not_found)} on none of these lists, or ruled out by a fact`,
    `${number(cleared)} named by a notice and found not affected by a person`,
    `${number(affected)} covered by a notice`,
    `${number(open)} not settled, to be treated as covered`,
    `${number(untold)} that could not be checked in full.`,
  ].join("; ");
}

/** What was compared with what and what came of it, in plain words, and what it does not say. One paragraph a text. */
export function proofStatement(facts: ProofFacts): string[] {
  const { at, lists, notices, unproved, appliances, tag } = facts;
  if (lists === 0 || notices === 0) return [`On ${at} no recall list was loaded: nothing was compared, and nothing can be said.`, limits];
  const was = tag === null && appliances !== 1 ? "were" : "was";
  return [
    `${subject(facts)} ${was} compared on ${at} with ${things(notices, "notice", "notices")} of ${things(lists, "recall list", "recall lists")}, each named below with its version.`,
    ...(appliances === 0 ? [] : [result(facts)]),
    ...(unproved === 0
      ? []
      : [`${things(unproved, "notice", "notices")} of these lists could be compared in part only, or not at all; they are named below.`]),
    limits,
  ];
}

const limits =
  "“Not found on the lists loaded” does not mean that an appliance is safe, nor that it is not recalled. Lists are incomplete, later notices are not in them, labels are misread, and only what is recorded here was compared. Ask the maker or the authority where it matters.";
