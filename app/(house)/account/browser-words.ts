/** Engines and systems by what their browsers say of themselves; the first that fits counts. */
const browsers: readonly [RegExp, string][] = [
  [/Edg(e|A|iOS)?\//, "Edge"],
  [/OPR\//, "Opera"],
  [/Firefox\/|FxiOS\//, "Firefox"],
  [/Chrom(e|ium)\/|CriOS\//, "Chromium"],
  [/Safari\//, "Safari"],
];
const systems: readonly [RegExp, string][] = [
  [/Android/, "Android"],
  [/iPhone|iPad/, "iOS"],
  [/Windows/, "Windows"],
  [/Mac OS X/, "macOS"],
  [/Linux/, "Linux"],
];

const first = (rules: readonly [RegExp, string][], text: string) => rules.find(([rule]) => rule.test(text))?.[1];

/** A browser's own description in two words. */
export function browserWords(agent: string | null): string {
  if (!agent) return "A browser that does not say which";
  const browser = first(browsers, agent) ?? "A browser";
  const system = first(systems, agent);
  return system ? `${browser} on ${system}` : browser;
}

/** A time to the minute, in UTC. */
export function minuteWords(at: Date): string {
  return at.toISOString().slice(0, 16).replace("T", " ");
}

/** A network address; the machine's own is said in words. */
export function addressWords(address: string | null): string {
  if (!address) return "not known";
  return /^(127\.|[0:]+1?$)/.test(address) ? "this machine" : address;
}
