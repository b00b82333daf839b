import { z } from "zod";

const text = (most: number) => z.string().trim().max(most);

/** How often a list may be looked at: hours. */
export const intervals = [1, 6, 12, 24, 72, 168] as const;

/** What a person gives of a source. */
export const sourceForm = z.object({
  name: text(120).min(1, { error: "Give the list a name by which others know it, such as its publisher." }),
  url: text(2_000).min(1, { error: "Give the address of the list, beginning with https://." }),
  everyHours: z.coerce
    .number({ error: "Choose how often to look." })
    .int()
    .refine((hours) => (intervals as readonly number[]).includes(hours), { error: "Choose how often to look." }),
});
export type SourceForm = z.infer<typeof sourceForm>;
