import { describe, expect, it } from "vitest";
import { compareProducts, productName } from "@/lib/matching/product-kind";
import { productKinds } from "@/lib/matching/product-words";

describe("two product names", () => {
  it.each([
    ["heater", "ceramic heaters", "same"],
    ["space heater", "Portable Electric Heaters", "same"],
    ["fridge", "bottom freezer refrigerators", "same"],
    ["vacuum cleaner", "cordless stick vacuums", "same"],
    ["vacuum cleaner", "robotic pool vacuum", "different"],
    ["ribbon sphere", "illuminated ribbon spheres", "same"],
    ["oscillating fan", "electric fans", "same"],
    ["fan", "ceiling fan", "related"],
    ["pressure washer", "leaf blower", "different"],
    ["multi-cooker", "electric pressure cooker", "same"],
    ["wobble stool", "wobble stools", "same"],
    ["gadget stand", "wobble stool", "different"],
    ["batteries", "battery packs", "same"],
  ])("%s and %s are %s", (left, right, agreement) => {
    expect(compareProducts(productName(left), [productName(right)])).toBe(agreement);
    expect(compareProducts(productName(right), [productName(left)])).toBe(agreement);
  });

  it("say nothing where one side is silent", () => {
    expect(compareProducts(productName("heater"), [])).toBe("unknown");
    expect(compareProducts(productName(""), [productName("heater")])).toBe("unknown");
  });
});

describe("the table of kinds", () => {
  it("gives no word to two kinds", () => {
    const phrases = productKinds.flat();
    expect(phrases.filter((phrase, at) => phrases.indexOf(phrase) !== at)).toEqual([]);
  });
});
