import { parseArgs } from "node:util";
import type { Bench, BenchResult } from "./bench-result";

/** Each benchmark sits in a file of its name and exports `bench`; loaded when named. */
const benches: Readonly<Record<string, () => Promise<{ bench: Bench }>>> = {
  understand: () => import("./understand"),
  crosscheck: () => import("./crosscheck"),
  queries: () => import("./queries"),
  "one-notice": () => import("./one-notice"),
  "load-labels": () => import("./load-labels"),
  screen: () => import("./screen"),
  pages: () => import("./pages"),
  ingest: () => import("./ingest"),
  pack: () => import("./pack"),
  pairs: () => import("./pairs"),
};

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    json: { type: "boolean" },
    small: { type: "boolean" },
    train: { type: "string" },
    test: { type: "string" },
    seconds: { type: "string" },
    database: { type: "string" },
  },
});

/** The product pairs are public data that is not part of the product, so that benchmark runs only when its files are named. */
function chosenNames(): string[] {
  if (positionals.length > 0) return positionals;
  return Object.keys(benches).filter((name) => name !== "pairs" || (values.train && values.test));
}

function print(result: BenchResult): void {
  if (values.json) return void process.stdout.write(`${JSON.stringify(result)}\n`);
  const { bench, measure, ratio, ...rest } = result;
  process.stdout.write(
    `${bench.padEnd(12)} ${measure}  ${ratio === undefined ? "" : `ratio ${ratio.toFixed(2)}`}  ${JSON.stringify(rest)}\n`,
  );
}

for (const name of chosenNames()) {
  const load = benches[name];
  if (!load) {
    process.stderr.write(`There is no benchmark "${name}"; the names are ${Object.keys(benches).join(", ")}.\n`);
    process.exit(2);
  }
  const flags = Object.fromEntries(Object.entries(values).filter((entry): entry is [string, string] => typeof entry[1] === "string"));
  for (const result of await (await load()).bench({ small: values.small ?? false, flags })) print(result);
}
