import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mod37Radix2, pureCheckCharacter } from "@/lib/identity/iso7064";
import { checkTagCode, isOwnTag, issueTagCode, tagKey } from "@/lib/identity/tag-code";

/** A repeatable source of whole numbers from 0 to n - 1. */
function drawsFrom(seed: number): (n: number) => number {
  let state = seed >>> 0;
  return (n) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * n);
  };
}

const tags = fc.integer({ min: 0, max: 2 ** 31 }).map((seed) => issueTagCode(drawsFrom(seed)));

describe("ISO 7064 pure systems", () => {
  // Published pairs: the MOD 11-2 ones are an ISO 7064 example (0794, 079) and a published ORCID identifier (0000-0002-1825-0097);
  // the MOD 37-2 ones stand in the test texts of an open-source library of check digits.
  const mod11Radix2 = { modulus: 11, radix: 2, alphabet: "0123456789X" };
  it.each([
    ["MOD 11-2", mod11Radix2, "0794", "0"],
    ["MOD 11-2", mod11Radix2, "079", "X"],
    ["MOD 11-2", mod11Radix2, "000000021825009", "7"],
    ["MOD 37-2", mod37Radix2, "G123489654321", "Y"],
    ["MOD 37-2", mod37Radix2, "G123498654321", "H"],
    ["MOD 37-2", mod37Radix2, "A999915000001", "M"],
  ])("%s gives %s's published check character", (_name, system, payload, check) => {
    expect(pureCheckCharacter(payload, system)).toBe(check);
  });

  it("gives none for a payload with a foreign character", () => {
    expect(pureCheckCharacter("A-1", mod37Radix2)).toBeNull();
  });
});

describe("tag codes of our own issue", () => {
  it("are accepted as issued, in any case and spacing", () => {
    fc.assert(
      fc.property(tags, (tag) => {
        expect(checkTagCode(tag)).toEqual({ ok: true, tag });
        expect(checkTagCode(` ${tag.toLowerCase().replaceAll("-", " ")} `)).toEqual({ ok: true, tag });
        expect(isOwnTag(tag)).toBe(true);
      }),
    );
  });

  it("hold no two characters that a label lets be confused", () => {
    fc.assert(
      fc.property(tags, (tag) => {
        expect(tagKey(tag).slice(2)).toMatch(/^[0-9ACEFHJKMNPRTVWXY]{7}$/);
      }),
    );
  });

  it("are refused with any one character wrong, in every place", () => {
    fc.assert(
      fc.property(tags, fc.integer({ min: 2, max: 8 }), fc.constantFrom(..."0123456789ACEFHJKMNPRTVWXY"), (tag, at, wrong) => {
        const key = tagKey(tag);
        fc.pre(key[at] !== wrong);
        expect(checkTagCode(key.slice(0, at) + wrong + key.slice(at + 1)).ok).toBe(false);
      }),
    );
  });

  it("are refused with two neighbours swapped, and the issued tag is named as likely unless two are", () => {
    fc.assert(
      fc.property(tags, fc.integer({ min: 2, max: 7 }), (tag, at) => {
        const key = tagKey(tag);
        fc.pre(key[at] !== key[at + 1]);
        const result = checkTagCode(key.slice(0, at) + key[at + 1] + key[at] + key.slice(at + 2));
        expect(result.ok).toBe(false);
        if (!result.ok && result.likely !== undefined) expect(checkTagCode(result.likely).ok).toBe(true);
      }),
    );
  });

  it.each([
    ["O for 0", "0", "O"],
    ["I for 1", "1", "I"],
    ["S for 5", "5", "S"],
    ["B for 8", "8", "B"],
  ])("typed with %s are refused with the tag that is meant", (_name, right, wrong) => {
    const draws = drawsFrom(7);
    let tag = issueTagCode(draws);
    while (!tagKey(tag).slice(2).includes(right)) tag = issueTagCode(draws);
    const typed = tag.slice(0, 3) + tag.slice(3).replace(right, wrong);
    expect(checkTagCode(typed)).toMatchObject({ ok: false, likely: tag });
  });

  it("leave other firms' codes alone", () => {
    expect(isOwnTag("ASSET-004417")).toBe(false);
    expect(isOwnTag("PW-12")).toBe(false);
    const refused = checkTagCode("ASSET-004417");
    expect(refused.ok).toBe(false);
    if (!refused.ok) expect(refused.problem).toContain("not a tag of ours");
  });
});
