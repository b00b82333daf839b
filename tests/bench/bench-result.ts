/** One measured comparison: the ratio is ours divided by theirs in the same process run. */
export interface BenchResult {
  readonly bench: string;
  readonly measure: string;
  readonly ratio?: number;
  readonly ours?: Readonly<Record<string, number>>;
  readonly theirs?: Readonly<Record<string, number>>;
  readonly n?: number;
  readonly [figure: string]: unknown;
}

/** Options every benchmark gets; `flags` are the named options after its name, such as `--train F`. */
export interface BenchOptions {
  readonly small: boolean;
  readonly flags: Readonly<Record<string, string>>;
}

export type Bench = (options: BenchOptions) => Promise<BenchResult[]>;
