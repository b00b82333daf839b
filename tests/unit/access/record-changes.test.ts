import { describe, expect, it } from "vitest";
import { changesOf } from "@/app/(house)/record/changes";

describe("the changes of a record entry", () => {
  it("are the fields that differ, named in words, old and new", () => {
    expect(changesOf({ role: "surveyor", siteIds: ["a"], name: "x" }, { role: "manager", siteIds: ["a"], name: "x" })).toEqual([
      { field: "role", was: "surveyor", is: "manager" },
    ]);
    expect(changesOf(null, { ratedWatts: 1500, note: "" })).toEqual([{ field: "rated watts", was: null, is: "1500" }]);
    expect(changesOf({ note: "old" }, undefined)).toEqual([{ field: "note", was: "old", is: null }]);
  });

  it("show a value that is no object, and cut a long one", () => {
    expect(changesOf("a", "b")).toEqual([{ field: "value", was: "a", is: "b" }]);
    expect(changesOf(null, { text: "x".repeat(400) })[0]?.is).toMatch(/^x{160} \.\.\.$/);
  });
});
