import { describe, expect, it } from "vitest";
import { understand } from "@/lib/notices/understand";
import { inventedNotice } from "./invented-notice";

const read = (description: string) => understand(inventedNotice({ description }));
const unread = (description: string) =>
  read(description)
    .spans.filter((span) => span.kind === "unread")
    .map((span) => description.slice(span.start, span.end));

describe("what looks like an identifier and was not understood", () => {
  it("is kept where a list of codes stands under a heading that says nothing", () => {
    const description = "Product Size 0034Q5 60 count 0342Q5 180 count 0360Q5 60 count. They were sold in white.";
    expect(read(description).models.include).toEqual([]);
    expect(unread(description)).toEqual(["0034Q5", "0342Q5", "0360Q5"]);
  });

  it("is kept where codes ran into each other and nothing tells them apart, and is no model", () => {
    const run = "QXR4410BHJTW5520KLMVN6630QWZPR7740";
    const description = `The following models are included: Model NumberSize ${run} 30 inches.`;
    expect(read(description).models.include).toEqual([]);
    expect(unread(description)).toEqual([run]);
  });

  it("does not name what is said to be another recall's, an example, or not included", () => {
    expect(unread("Model numbers such as LF-4420 are on the label.")).toEqual([]);
    expect(unread("The original recall in May 2029 involved model LF-4420.")).toEqual([]);
    expect(unread("Serial numbers QD440012 are not included.")).toEqual([]);
  });

  it("does not name what a statement covers, also at another place", () => {
    expect(unread("Model LF-4420 and serial numbers QD440012 through QD550012 are included. LF-4420 is printed on the label.")).toEqual([]);
  });

  it("is a span of its own kind beside the coverage's other fields", () => {
    const coverage = read("Product Size 0034Q5 60 count 0342Q5 180 count 0360Q5 60 count.");
    expect(coverage.spans.filter((span) => span.kind === "unread")).toEqual([
      { field: "description", start: 13, end: 19, kind: "unread", reads: "0034Q5" },
      { field: "description", start: 29, end: 35, kind: "unread", reads: "0342Q5" },
      { field: "description", start: 46, end: 52, kind: "unread", reads: "0360Q5" },
    ]);
  });
});
