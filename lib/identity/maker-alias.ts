import { type MakerAliases, makerKey } from "./maker";

/** Two makers' names that belong together: one firm under two names, or a house brand that belongs to another maker. */
export interface AliasLink {
  readonly name: string;
  readonly otherName: string;
  readonly relation: "same" | "belongs";
}

/** Each name with all that are the same firm, through any number of steps. */
function sameFirms(links: readonly AliasLink[]): Map<string, Set<string>> {
  const classOf = new Map<string, Set<string>>();
  const own = (name: string) => {
    const key = makerKey(name);
    const known = classOf.get(key) ?? new Set([key]);
    classOf.set(key, known);
    return known;
  };
  for (const { name, otherName, relation } of links) {
    const [left, right] = [own(name), own(otherName)];
    if (relation !== "same" || left === right) continue;
    for (const key of right) {
      left.add(key);
      classOf.set(key, left);
    }
  }
  return classOf;
}

/**
 * The groups of names that count as one maker when an appliance is compared with a notice. Names of the same firm are one group through
 * any number of steps; a house brand goes with the firm it belongs to, but two house brands of one firm do not become one another. The
 * order of the links says nothing.
 */
export function aliasGroups(links: readonly AliasLink[]): MakerAliases {
  const classOf = sameFirms(links);
  const keysOf = (name: string) => classOf.get(makerKey(name)) ?? new Set([makerKey(name)]);
  const groups = links.map(({ name, otherName }) => [...new Set([...keysOf(name), ...keysOf(otherName)])].sort());
  const unique = new Map(groups.filter(({ length }) => length > 1).map((group) => [group.join(" "), group]));
  return [...unique].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, group]) => group);
}

/** Every maker key that one of the two names is compared as, before and after the link: what a change of it can touch. */
export function touchedMakers(link: AliasLink, before: readonly AliasLink[], after: readonly AliasLink[]): string[] {
  const own = [makerKey(link.name), makerKey(link.otherName)];
  const groups = [...aliasGroups(before), ...aliasGroups(after)].filter((group) => own.some((key) => group.includes(key)));
  return [...new Set([...own, ...groups.flat()])].sort();
}
