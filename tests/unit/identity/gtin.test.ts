import { describe, expect, it } from "vitest";
import { gtinCheckDigit, toGtin14 } from "@/lib/identity/gtin";

describe("GTIN", () => {
  // Published examples: GS1 General Specifications and its check digit page (629104150021, 0952123454321, 7351353); 03600029145 is the usual UPC-A example (from memory).
  it.each([
    ["629104150021", 3],
    ["0952123454321", 3],
    ["7351353", 7],
    ["03600029145", 2],
    ["61414100003", 6],
  ])("%s has check digit %i", (body, digit) => {
    expect(gtinCheckDigit(body)).toBe(digit);
  });

  it("is one number however long it is printed", () => {
    expect(toGtin14("036000291452")).toBe("00036000291452");
    expect(toGtin14("0036000291452")).toBe("00036000291452");
    expect(toGtin14("0-36000-29145 2")).toBe("00036000291452");
  });

  it("is none with a wrong check digit, length or letter", () => {
    for (const wrong of ["036000291453", "0360002914", "03600029145X", ""]) expect(toGtin14(wrong)).toBeNull();
  });
});
