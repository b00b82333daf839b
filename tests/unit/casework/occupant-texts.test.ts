import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findingCauses } from "@/lib/casework/cause";
import {
  editableParts,
  fieldsOf,
  fillText,
  languageFor,
  noticeFields,
  occupantLanguages,
  occupantTexts,
  partProblem,
} from "@/lib/casework/occupant-texts";
import { signalWords } from "@/lib/casework/signal-word";

const names = Object.keys(occupantTexts.en) as (keyof typeof occupantTexts.en)[];
const others = occupantLanguages.filter((language) => language !== "en");

describe.each(others)("the occupants' texts in %s", (language) => {
  const texts = occupantTexts[language];

  it("are complete, and none is empty", () => {
    expect(Object.keys(texts).sort()).toEqual([...names].sort());
    expect(names.filter((name) => texts[name].trim() === "")).toEqual([]);
  });

  it("differ from English, each of them", () => {
    expect(names.filter((name) => texts[name] === occupantTexts.en[name])).toEqual([]);
  });

  it.each(names)("use the same fields in %s", (name) => {
    expect(fieldsOf(texts[name])).toEqual(fieldsOf(occupantTexts.en[name]));
  });
});

describe("the occupants' texts", () => {
  it("name a hazard for every cause and a word for every signal word", () => {
    for (const cause of findingCauses) expect(names).toContain(`hazard ${cause}`);
    for (const word of signalWords) expect(names).toContain(`word_${word}`);
  });

  it("pass the rule for an organisation's own wording, as shipped", () => {
    for (const language of occupantLanguages)
      for (const part of editableParts) expect(partProblem(part, occupantTexts[language][part])).toBeNull();
  });
});

describe("an organisation's own wording", () => {
  it.each([
    ["about", "Look at {applience}.", /no field \{applience\}/],
    ["about", "Look at {}.", /no field \{\}/],
    ["about", "Look at {constructor}.", /no field/],
    ["about", "Look at {appliance", /brace stands alone/],
    ["about", "{{phone}}", /brace stands alone/],
    ["subject", "One\nTwo", /one line/],
    ["next", "x".repeat(1501), /at most 1500/],
  ] as const)("of %s is refused: %j", (part, text, why) => {
    expect(partProblem(part, text)).toMatch(why);
  });

  it("may hold every field", () => {
    expect(partProblem("next", noticeFields.map((name) => `{${name}}`).join(" "))).toBeNull();
  });
});

describe("filling", () => {
  it("never takes a value for a field, and lets no value break a line or turn the direction of writing", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 60 }), (name) => {
        const filled = fillText("Dear {name},", { name, phone: "SECRET" });
        expect(filled).not.toMatch(/[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069]/u);
        if (!name.includes("SECRET")) expect(filled).not.toContain("SECRET");
      }),
    );
    expect(fillText("To {name}", { name: "{phone}\r\nBcc: x@y.example\u202e", phone: "1" })).toBe("To {phone} Bcc: x@y.example");
    expect(fillText("{toString}|{name}", {})).toBe("|");
  });
});

describe("the language that a browser asks for", () => {
  // RFC 9110, section 12.5.4: quality values; a tag's first part is its language.
  it.each([
    [null, "en"],
    ["de-AT,de;q=0.9,en;q=0.5", "de"],
    ["en-GB,de;q=0.9", "en"],
    ["fr,de;q=0.2", "de"],
    ["fr", "en"],
    ["de;q=0, en;q=0.1", "en"],
    ["de;q=x", "en"],
  ] as const)("for %j is %s", (accepted, language) => {
    expect(languageFor(accepted)).toBe(language);
  });
});
