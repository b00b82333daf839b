import { describe, expect, it } from "vitest";
import { buildRecallIndex } from "@/lib/matching/recall-index";
import { regradeWithAnswer } from "@/lib/matching/regrade";
import { makeAppliance, makeCoverage, makeNotice } from "@/tests/support/matching-builders";

const index = buildRecallIndex([makeNotice(makeCoverage({ serials: [{ pattern: "27*" }] }))]);
const pair = { appliance: makeAppliance(), noticeKey: "T-1" };

describe("an answer", () => {
  it("of the staff settles the pair both ways", () => {
    expect(regradeWithAnswer(index, pair, { field: "serial", value: "2712", by: "staff" })?.grade).toBe("covered");
    expect(regradeWithAnswer(index, pair, { field: "serial", value: "3012", by: "staff" })?.grade).toBe("not_covered");
  });

  it("of an occupant may raise a grade and never clears a pair", () => {
    expect(regradeWithAnswer(index, pair, { field: "serial", value: "2712", by: "occupant" })?.grade).toBe("covered");
    expect(regradeWithAnswer(index, pair, { field: "serial", value: "3012", by: "occupant" })?.grade).toBe("check_label");
  });

  it("that says nothing changes nothing", () => {
    expect(regradeWithAnswer(index, pair, { field: "serial", value: " ", by: "staff" })?.grade).toBe("check_label");
  });

  it("about a notice that is gone is null", () => {
    expect(regradeWithAnswer(index, { ...pair, noticeKey: "T-9" }, { field: "serial", value: "2712", by: "staff" })).toBeNull();
  });
});
