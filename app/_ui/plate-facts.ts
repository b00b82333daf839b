import type { RatingCells } from "@/lib/electrical/rating-words";

/** What a rating plate shows. Null is "not read", never zero. */
export interface PlateFacts {
  readonly maker: string | null;
  readonly model: string | null;
  readonly serial?: string | null;
  readonly dateCode?: string | null;
  readonly category?: string | null;
  readonly cells: RatingCells;
  readonly protectionClass?: string | null;
  /** Printed words besides the rating, such as "Do not cover". */
  readonly notes?: string | null;
}

/** Class II of IEC 61140, double or reinforced insulation, is the one that plates mark with a symbol. */
export function isClassTwo(protectionClass: string | null | undefined): boolean {
  return /^(class\s*)?(ii|2)$/i.test(protectionClass?.trim() ?? "");
}
