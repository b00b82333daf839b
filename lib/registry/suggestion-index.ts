import Fuse from "fuse.js";
import { modelKey } from "@/lib/identity/model-number";

export type SuggestionKind = "maker" | "model" | "notice";

/** Something that a search box may lead to. */
export interface Suggestion {
  readonly kind: SuggestionKind;
  readonly label: string;
  /** A second line: the notice's date, how many appliances. */
  readonly detail: string;
  readonly href: string;
}

export interface SuggestionIndex {
  readonly size: number;
  /** Suggestions for what is typed so far: the kind with the nearest first, each kind best first. */
  suggest(typed: string): Suggestion[];
}

const kinds: readonly SuggestionKind[] = ["maker", "model", "notice"];
const mostOf: Readonly<Record<SuggestionKind, number>> = { maker: 3, model: 5, notice: 6 };
/** So many of a kind that share most pairs of letters with what is typed are ranked by Fuse.js; the rest cannot be near. */
const shortlisted = 250;
const longestTyped = 80;
const mostWords = 6;
/** How much of a word may be wrong, found by trying on misspelt queries: a slip in one short word alone makes another word of it. */
const threshold = { short: 0.25, long: 0.4 };
const longWord = 6;

interface Found {
  readonly distance: number;
  readonly suggestions: readonly Suggestion[];
}

interface Entry {
  readonly suggestion: Suggestion;
  readonly text: string;
}

function folded(text: string): string {
  return text
    .normalize("NFKD")
    .replace(/\p{M}+/gu, "")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .trim();
}

/** Pairs of neighbouring letters, a word's first letter paired with a blank before it. */
function pairs(text: string): Set<string> {
  const padded = ` ${text}`;
  return new Set(Array.from({ length: padded.length - 1 }, (_, at) => padded.slice(at, at + 2)).filter((pair) => pair[1] !== " "));
}

/** The entries of one kind, by pairs of letters. */
class KindIndex {
  private readonly entries: readonly Entry[];
  private readonly byPair = new Map<string, number[]>();
  private readonly scores: Float32Array;

  constructor(suggestions: readonly Suggestion[]) {
    this.entries = suggestions.map((suggestion) => {
      const text = folded(suggestion.label);
      // codes are typed with and without their separators
      const code = suggestion.kind === "model" ? ` ${modelKey(suggestion.label.split(" ").at(-1) ?? "").toLowerCase()}` : "";
      return { suggestion, text: text + code };
    });
    this.scores = new Float32Array(this.entries.length);
    this.entries.forEach(({ text }, id) => {
      for (const pair of pairs(text)) {
        const ids = this.byPair.get(pair);
        if (ids) ids.push(id);
        else this.byPair.set(pair, [id]);
      }
    });
  }

  /** The entries that share the rarest pairs of letters with the words. */
  private shortlist(words: readonly string[]): Entry[] {
    const touched: number[] = [];
    for (const pair of pairs(words.join(" "))) {
      const ids = this.byPair.get(pair) ?? [];
      const weight = Math.log(1 + this.entries.length / (1 + ids.length));
      for (const id of ids) {
        if (this.scores[id] === 0) touched.push(id);
        this.scores[id] = (this.scores[id] ?? 0) + weight;
      }
    }
    const ranked = touched.map((id) => ({ id, score: this.scores[id] ?? 0 }));
    this.scores.fill(0);
    ranked.sort((a, b) => b.score - a.score || a.id - b.id);
    return ranked.slice(0, shortlisted).flatMap(({ id }) => this.entries[id] ?? []);
  }

  /** The best entries, all words of which are found in them with a slip or two, and how far the best of them is from what is typed. */
  find(words: readonly string[], most: number): Found {
    const entries = this.shortlist(words);
    const isShort = words.length === 1 && words.join("").length < longWord;
    const options = { keys: ["text"], threshold: isShort ? threshold.short : threshold.long, ignoreLocation: true, includeScore: true };
    const found = new Fuse(entries, options).search({ $and: words.map((word) => ({ text: word })) }, { limit: most });
    return { distance: found[0]?.score ?? 1, suggestions: found.map(({ item }) => item.suggestion) };
  }
}

/** Builds the index of a search box: pairs of letters choose a shortlist in microseconds, Fuse.js ranks it as a person would. */
export function buildSuggestionIndex(suggestions: readonly Suggestion[]): SuggestionIndex {
  const indexes = kinds.map((kind) => ({ kind, index: new KindIndex(suggestions.filter((one) => one.kind === kind)) }));
  return {
    size: suggestions.length,
    suggest(typed) {
      const words = folded(typed.slice(0, longestTyped))
        .split(" ")
        .filter((word) => word !== "")
        .slice(0, mostWords);
      if (words.join("").length < 2) return [];
      const found = indexes.map(({ kind, index }) => index.find(words, mostOf[kind]));
      return found.sort((a, b) => a.distance - b.distance).flatMap(({ suggestions }) => suggestions);
    },
  };
}
