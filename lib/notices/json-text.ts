/** What stands in for a record that is nested too deep to print. */
export const tooDeep = "(a record nested too deep to print)";

/** A parsed record as text for the set-aside list; one nested too deep to print is only named. */
export function jsonText(entry: unknown): string {
  try {
    return JSON.stringify(entry) ?? String(entry);
  } catch {
    return tooDeep;
  }
}
