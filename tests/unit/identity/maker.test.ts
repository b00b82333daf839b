import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compareMakers, makerKey } from "@/lib/identity/maker";

describe("a maker's key", () => {
  it.each([
    ["Brightholm", "BRIGHTHOLM, INC."],
    ["Brightholm", "Brightholm (R)"],
    ["Brightholm", "brightholm®"],
    ["Brightholm", "Brightholm™ Co., Ltd."],
    ["Kettle-Ware", "KettleWare"],
    ["Söderhus", "Soderhus AB"],
    ["Vale & Moor", "VALE and MOOR LLC"],
    ["O'Tarn", "OTarn"],
  ])("is one for %s and %s", (left, right) => {
    expect(makerKey(left)).toBe(makerKey(right));
  });

  it("keeps a name that is itself a legal form", () => {
    expect(makerKey("Sol")).toBe("SOL");
    expect(makerKey("AG")).toBe("AG");
  });
});

describe("two makers' names", () => {
  it.each([
    ["Brightholm", "Brightholm GmbH", "same"],
    ["Brightholm", "Brightholm Elite", "part"],
    ["QX", "QX Appliances", "part"],
    ["Brighholm", "Brightholm", "near"],
    ["Briightholm", "Brightholm", "near"],
    ["8rightholm", "Brightholm", "near"],
    ["VVQ", "VQ", "near"],
    ["VKQ", "VQ", "other"],
    ["V-Ko", "V-Kuo", "near"],
    ["Vq", "Vkq", "other"],
    ["Vako", "Vuko", "other"],
    ["Tarnfeld Home", "Velnost Home", "other"],
    ["QX", "QZ", "other"],
    ["Home Products", "Velnost Home Products", "other"],
  ])("%s and %s are %s", (left, right, agreement) => {
    expect(compareMakers(left, right)).toBe(agreement);
    expect(compareMakers(right, left)).toBe(agreement);
  });

  it("are one maker where the administrator says so", () => {
    expect(compareMakers("Hearthly", "Velnost")).toBe("other");
    expect(compareMakers("Hearthly Inc", "VELNOST", [["Hearthly", "Velnost"]])).toBe("alias");
  });

  it("compare the same way round and round", () => {
    const names = fc
      .array(fc.constantFrom("Oak", "Velnost", "Home", "Inc", "Q", "Tarn", "Electric"), { minLength: 1, maxLength: 4 })
      .map((words) => words.join(" "));
    fc.assert(fc.property(names, names, (left, right) => compareMakers(left, right) === compareMakers(right, left)));
    fc.assert(fc.property(names, (name) => compareMakers(name, name) === "same"));
  });
});
