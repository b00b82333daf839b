import { describe, expect, it } from "vitest";
import { type StatementForm, statementInput } from "@/lib/registry/coverage-correction-input";

const problemOf = (form: StatementForm) => {
  const result = statementInput.safeParse(form);
  return result.success ? null : { field: result.error.issues[0]?.path.join("."), sentence: result.error.issues[0]?.message };
};

describe("a statement typed by a person", () => {
  it.each<[StatementForm, object]>([
    [
      { kind: "model", text: " HT-15## " },
      { kind: "model", pattern: "HT-15##" },
    ],
    [
      { kind: "excluded", text: "HT-1500C/R*" },
      { kind: "excluded", pattern: "HT-1500C/R*" },
    ],
    [{ kind: "all_models" }, { kind: "all_models" }],
    [
      { kind: "serial", from: "KM2331", to: "KM2409", as: "beginning" },
      { kind: "serial", window: { from: "KM2331", to: "KM2409", as: "beginning" } },
    ],
    [
      { kind: "serial", text: "KM23*", models: "HT-1500B, HT-1500C" },
      { kind: "serial", window: { pattern: "KM23*", for: ["HT-1500B", "HT-1500C"] } },
    ],
    [
      { kind: "dateCode", from: "2331", to: "2409", as: "yyww" },
      { kind: "dateCode", window: { from: "2331", to: "2409", as: "YYWW" } },
    ],
    [
      { kind: "made", from: "2023-07-31" },
      { kind: "made", window: { from: "2023-07-31", to: null } },
    ],
    // the worked example of the UPC-A check digit in the GS1 General Specifications (from memory)
    [
      { kind: "upc", text: "0 36000 29145 2" },
      { kind: "upc", text: "036000291452" },
    ],
    [
      { kind: "brand", text: "Quill  & Gray" },
      { kind: "brand", text: "Quill & Gray" },
    ],
    [
      { kind: "product", text: "fan heater" },
      { kind: "product", text: "fan heater" },
    ],
  ])("is read: %j", (form, statement) => {
    expect(statementInput.parse(form)).toEqual(statement);
  });

  it.each<[StatementForm, string, RegExp]>([
    [{ kind: "model", text: "" }, "text", /Write the pattern.*# stands for one digit/],
    [{ kind: "model", text: "*" }, "text", /at least two letters or digits/],
    [{ kind: "model", text: "H*" }, "text", /at least two/],
    [{ kind: "model", text: "HT-1500%" }, "text", /sign that no code has/],
    [{ kind: "model", text: "H".repeat(121) }, "text", /at most 120/],
    [{ kind: "serial", from: "--", to: "K9" }, "from", /no letter or digit/],
    [{ kind: "serial", text: "KM*", from: "KM1", to: "KM9" }, "text", /not both/],
    [{ kind: "dateCode", from: "2331", to: "2409", as: "weeks" }, "as", /no order/],
    [{ kind: "made" }, "from", /first day, the last day, or both/],
    [{ kind: "made", from: "2023-02-30" }, "from", /YYYY-MM-DD/],
    [{ kind: "made", from: "2024-01-01", to: "2023-01-01" }, "to", /swap them/],
    [{ kind: "upc", text: "036000291453" }, "text", /last of which must check/],
    [{ kind: "brand", text: " - " }, "text", /maker's name/],
    [{ kind: "serial", text: "KM23*", models: "HT-1500B, *" }, "models", /at least two/],
  ])("is refused at its field with how to mend it: %j", (form, field, sentence) => {
    expect(problemOf(form)).toEqual({ field, sentence: expect.stringMatching(sentence) });
  });
});
