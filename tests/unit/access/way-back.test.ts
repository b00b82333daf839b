import { describe, expect, it } from "vitest";
import { safeWayBack } from "@/app/sign-in/way-back";

describe("the way back after signing in", () => {
  it.each([
    ["/findings/7", "/findings/7"],
    ["/appliances?page=2&q=a%20b", "/appliances?page=2&q=a%20b"],
  ])("keeps our own path %j", (back, kept) => expect(safeWayBack(back)).toBe(kept));

  it.each([
    undefined,
    "",
    "/",
    "findings",
    "//evil.example",
    "/\\evil.example",
    "https://evil.example/",
    "/\t/evil.example",
    "/sign-in?back=/x",
    ["/a"],
  ])("goes to the first page for %j", (back) => expect(safeWayBack(back)).toBe("/"));
});
