import { z } from "zod";
import type { SeenDrawsState } from "./seen-draws";
import type { ThinningState } from "./site-thinning";

/** What is kept of a site's screening beside the engine's own state. */
export interface CheckpointNotes {
  /** Keys of stored results that may still change or go. */
  readonly open: readonly string[];
  /** Newest reading taken of each load or source, milliseconds. */
  readonly newest: Readonly<Record<string, number>>;
  /** Folded tags seen at the site, of whatever appliance. */
  readonly tags: readonly string[];
  readonly draws: SeenDrawsState;
  readonly thinning: ThinningState;
}

export interface Checkpoint {
  readonly notes: CheckpointNotes;
  readonly state: Uint8Array;
}

const version = 1;
const head = z.object({
  version: z.literal(version),
  notes: z.object({
    open: z.array(z.string()),
    newest: z.record(z.string(), z.number()),
    tags: z.array(z.string()),
    draws: z.custom<SeenDrawsState>((value) => value !== null && typeof value === "object"),
    thinning: z.custom<ThinningState>((value) => value !== null && typeof value === "object"),
  }),
});

/** A checkpoint as bytes: the length of the notes, the notes as JSON, the engine's state. */
export function packCheckpoint({ notes, state }: Checkpoint): Uint8Array<ArrayBuffer> {
  const text = new TextEncoder().encode(JSON.stringify({ version, notes }));
  const bytes = new Uint8Array(4 + text.length + state.length);
  new DataView(bytes.buffer).setUint32(0, text.length);
  bytes.set(text, 4);
  bytes.set(state, 4 + text.length);
  return bytes;
}

/** Reads a checkpoint; null when it is of another version or damaged, so that the kept readings must be judged anew. */
export function unpackCheckpoint(bytes: Uint8Array): Checkpoint | null {
  if (bytes.length < 4) return null;
  const length = new DataView(bytes.buffer, bytes.byteOffset).getUint32(0);
  if (bytes.length < 4 + length) return null;
  try {
    const { notes } = head.parse(JSON.parse(new TextDecoder().decode(bytes.subarray(4, 4 + length))));
    return { notes, state: bytes.slice(4 + length) };
  } catch {
    return null;
  }
}
