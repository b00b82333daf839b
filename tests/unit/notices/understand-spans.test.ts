import { describe, expect, it } from "vitest";
import { understand } from "@/lib/notices/understand";
import { inventedNotice } from "./invented-notice";

const notice = inventedNotice({
  title: "Larkfield Recalls LF-220 Steam Kettles Due to Burn Hazard",
  description:
    "Larkfield™ kettles, model number LF-220, with serial numbers A100 through A199, made in March 2030, are recalled. The model number is printed on a label on the bottom of the kettle.",
  productNames: ["Larkfield steam kettles"],
});
const spans = understand(notice).spans;
const textOf = (span: (typeof spans)[number]) => {
  const field = notice[span.field as "title" | "description" | "productNames"];
  return (typeof field === "string" ? field : (field[span.index ?? 0] ?? "")).slice(span.start, span.end);
};

describe("each statement says where it stands", () => {
  const cases: [kind: string, field: string, text: string][] = [
    ["model", "description", "LF-220"],
    ["serial", "description", "A100 through A199"],
    ["made", "description", "March 2030"],
    ["brand", "title", "Larkfield"],
    ["product", "title", "Steam Kettle"],
    ["location", "description", "on a label on the bottom of the kettle"],
  ];
  it.each(cases)("%s in the %s: %s", (kind, field, text) => {
    expect(spans.filter((span) => span.kind === kind && span.field === field).map(textOf)).toContain(text);
  });

  it("inside its field", () => {
    for (const span of spans) {
      expect(span.start).toBeGreaterThanOrEqual(0);
      expect(span.end).toBeGreaterThan(span.start);
      expect(textOf(span).length).toBe(span.end - span.start);
    }
  });
});
