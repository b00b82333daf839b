import { windowText } from "./code-windows";
import type { FoundWindow } from "./draft";

type AnyWindow =
  | { readonly from: string | null; readonly to: string | null; readonly for?: readonly string[] }
  | { readonly pattern: string; readonly for?: readonly string[] };

/**
 * Windows without doubles, each tied to the models of its table row. A window that stands for every row of the table
 * needs no tie.
 */
export function tieWindows<W extends AnyWindow>(found: readonly FoundWindow<W>[], rows: ReadonlyMap<number, readonly string[]>): W[] {
  const tied = new Map<string, { window: W; models: Set<string>; free: boolean }>();
  for (const { window, row } of found) {
    const key = windowText(window);
    const entry = tied.get(key) ?? { window, models: new Set<string>(), free: false };
    const models = row === null ? [] : (rows.get(row) ?? []);
    if (models.length === 0) entry.free = true;
    for (const model of models) entry.models.add(model);
    tied.set(key, entry);
  }
  const all = new Set([...rows.values()].flat());
  return [...tied.values()].map(({ window, models, free }) =>
    free || models.size === all.size ? window : { ...window, for: [...models] },
  );
}
