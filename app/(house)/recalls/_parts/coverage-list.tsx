import type { ReactNode } from "react";
import { Code } from "@/app/_ui/code";
import { DefinitionList } from "@/app/_ui/definition-list";
import type { CodeWindow, Coverage, MadeWindow } from "@/lib/notices/coverage";

function windowWords(window: CodeWindow | MadeWindow): string {
  const range = "pattern" in window ? window.pattern : `${window.from ?? "any date"} to ${window.to ?? "any date"}`;
  const tied = window.for && window.for.length > 0 ? ` (for ${window.for.join(", ").replaceAll("brand:", "")})` : "";
  return `${range}${window.as ? `, runs as ${window.as}` : ""}${tied}`;
}

function Names({ values }: { values: readonly string[] }) {
  return values.length > 0 ? values.join(", ") : <span className="mute">none named</span>;
}

function Codes({ values }: { values: readonly string[] }) {
  return values.length === 0 ? <span className="mute">none stated</span> : <Code wrap>{values.join(", ")}</Code>;
}

function windows(values: readonly (CodeWindow | MadeWindow)[]): ReactNode {
  return <Codes values={values.map(windowWords)} />;
}

/** Our reading of a notice as a table of facts. In a pattern `#` is a digit, `@` a letter, `?` any character, `*` any run. */
export function CoverageList({ coverage }: { coverage: Coverage }) {
  const { brands, products, models, serials, dateCodes, made, upcs } = coverage;
  const stated = models.stated === "all" ? "all models" : models.stated === "none" ? "no model stated" : null;
  return (
    <>
      <DefinitionList
        entries={[
          ["Makers", <Names key="makers" values={brands} />],
          ["Products", <Names key="products" values={products} />],
          ["Models", stated ?? <Codes key="models" values={models.include} />],
          models.exclude.length > 0 ? ["Left out", <Codes key="left out" values={models.exclude} />] : null,
          serials.length > 0 ? ["Serial numbers", windows(serials)] : null,
          dateCodes.length > 0 ? ["Date codes", windows(dateCodes)] : null,
          made.length > 0 ? ["Made", windows(made)] : null,
          upcs.length > 0 ? ["Product numbers", <Codes key="upcs" values={upcs} />] : null,
        ]}
      />
      <p className="small mute">In a model or serial # is one digit, @ one letter, ? any character, * any run of them.</p>
    </>
  );
}
