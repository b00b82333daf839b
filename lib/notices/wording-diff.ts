import type { Notice } from "./notice";

/** A stretch of words that stayed, went or came. */
export interface Piece {
  readonly kind: "same" | "gone" | "new";
  readonly text: string;
}

/** What changed in one part of a notice. */
export interface WordingChange {
  readonly part: string;
  readonly pieces: readonly Piece[];
}

/** More steps than this are not counted out: the differing middle is then shown as gone and new whole. */
const mostSteps = 4_000_000;

const wordsOf = (text: string): string[] => text.match(/\s*\S+/g) ?? [];

/** Lengths of the longest common runs of words from each place on, for walking forward through both texts. */
function commonLengths(before: readonly string[], after: readonly string[]): Uint32Array {
  const width = after.length + 1;
  const lengths = new Uint32Array((before.length + 1) * width);
  for (let i = before.length - 1; i >= 0; i--) {
    for (let j = after.length - 1; j >= 0; j--) {
      const at = i * width + j;
      const isSame = before[i]?.trim() === after[j]?.trim();
      lengths[at] = isSame ? (lengths[at + width + 1] ?? 0) + 1 : Math.max(lengths[at + width] ?? 0, lengths[at + 1] ?? 0);
    }
  }
  return lengths;
}

function addPiece(pieces: Piece[], kind: Piece["kind"], words: readonly string[]): void {
  if (words.length === 0) return;
  const last = pieces.at(-1);
  if (last?.kind === kind) pieces[pieces.length - 1] = { kind, text: last.text + words.join("") };
  else pieces.push({ kind, text: words.join("") });
}

function diffMiddle(before: readonly string[], after: readonly string[], pieces: Piece[]): void {
  if (before.length * after.length > mostSteps) {
    addPiece(pieces, "gone", before);
    addPiece(pieces, "new", after);
    return;
  }
  const width = after.length + 1;
  const lengths = commonLengths(before, after);
  let i = 0;
  let j = 0;
  while (i < before.length && j < after.length) {
    if (before[i]?.trim() === after[j]?.trim()) {
      addPiece(pieces, "same", [after[j] ?? ""]);
      i++;
      j++;
    } else if ((lengths[(i + 1) * width + j] ?? 0) >= (lengths[i * width + j + 1] ?? 0)) addPiece(pieces, "gone", [before[i++] ?? ""]);
    else addPiece(pieces, "new", [after[j++] ?? ""]);
  }
  addPiece(pieces, "gone", before.slice(i));
  addPiece(pieces, "new", after.slice(j));
}

/** The words of two texts, told apart: what stayed, what went, what came. Joined without the gone ones they are the later text but for blanks. */
export function diffWords(before: string, after: string): Piece[] {
  const [was, is] = [wordsOf(before), wordsOf(after)];
  let head = 0;
  while (head < was.length && head < is.length && was[head]?.trim() === is[head]?.trim()) head++;
  let tail = 0;
  while (tail < was.length - head && tail < is.length - head && was.at(-1 - tail)?.trim() === is.at(-1 - tail)?.trim()) tail++;
  const pieces: Piece[] = [];
  addPiece(pieces, "same", is.slice(0, head));
  diffMiddle(was.slice(head, was.length - tail), is.slice(head, is.length - tail), pieces);
  addPiece(pieces, "same", is.slice(is.length - tail));
  return pieces;
}

const parts: readonly { readonly name: string; readonly of: (notice: Notice) => string }[] = [
  { name: "Title", of: ({ title }) => title },
  { name: "Description", of: ({ description }) => description },
  { name: "Products", of: ({ productNames }) => productNames.join("; ") },
  { name: "Brands", of: ({ statedBrands }) => statedBrands.join("; ") },
  { name: "Models", of: ({ statedModels }) => statedModels ?? "" },
  { name: "Serial numbers", of: ({ statedSerials }) => statedSerials ?? "" },
  { name: "Made", of: ({ madeFrom, madeTo }) => [madeFrom, madeTo].filter((day) => day !== null).join(" to ") },
  { name: "Product numbers", of: ({ upcs }) => upcs.join("; ") },
  { name: "Makers", of: ({ makers }) => makers.join("; ") },
  { name: "Hazard", of: ({ hazard }) => hazard ?? "" },
  { name: "Remedy", of: ({ remedy }) => remedy ?? "" },
  { name: "Contact", of: ({ contact }) => contact ?? "" },
];

const contextWords = 10;

/** A long stretch that stayed, cut to the words beside the changes. */
function shortened(pieces: readonly Piece[]): Piece[] {
  return pieces.map((piece, at) => {
    const words = wordsOf(piece.text);
    if (piece.kind !== "same" || words.length <= 2 * contextWords + 4) return piece;
    const head = at === 0 ? "" : words.slice(0, contextWords).join("");
    const tail = at === pieces.length - 1 ? "" : words.slice(-contextWords).join("");
    return { kind: "same", text: `${head} …${tail}` };
  });
}

/** What an amendment changed in a notice's words, part by part, with a few words around each change. */
export function wordingChanges(before: Notice, after: Notice): WordingChange[] {
  return parts.flatMap(({ name, of }) => {
    const [was, is] = [of(before), of(after)];
    return was === is ? [] : [{ part: name, pieces: shortened(diffWords(was, is)) }];
  });
}
