/** One field of a change, as text; null where there was or is nothing. */
export interface FieldChange {
  readonly field: string;
  readonly was: string | null;
  readonly is: string | null;
}

const longest = 160;

function fieldsOf(value: unknown): Readonly<Record<string, unknown>> {
  if (value === null || value === undefined) return {};
  return typeof value === "object" && !Array.isArray(value) ? (value as Record<string, unknown>) : { value };
}

function words(value: unknown): string | null {
  if (value === null || value === undefined || value === "") return null;
  const text = typeof value === "string" ? value : JSON.stringify(value);
  return text.length > longest ? `${text.slice(0, longest)} ...` : text;
}

/** A field's name in words: `ratedWatts` is `rated watts`. */
function fieldWords(field: string): string {
  return field.replace(/([a-z])([A-Z])/g, "$1 $2").toLowerCase();
}

/** What differs between before and after, field by field, in the order of the fields. */
export function changesOf(before: unknown, after: unknown): FieldChange[] {
  const [old, fresh] = [fieldsOf(before), fieldsOf(after)];
  return [...new Set([...Object.keys(old), ...Object.keys(fresh)])]
    .map((field) => ({ field: fieldWords(field), was: words(old[field]), is: words(fresh[field]) }))
    .filter(({ was, is }) => was !== is);
}
