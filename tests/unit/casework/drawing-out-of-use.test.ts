import { describe, expect, it } from "vitest";
import { drawingOutOfUse } from "@/lib/casework/drawing-out-of-use";

const since = new Date("2026-03-02T12:00:30Z");
const minute = (text: string, maxWatts: number | null, meanAmps: number | null = null) => ({ at: new Date(text), maxWatts, meanAmps });

describe("an appliance that is out of use", () => {
  it.each([
    ["nothing is read", []],
    ["it draws nothing", [minute("2026-03-02T13:00:00Z", 0, 0)]],
    ["the meter is a little off zero", [minute("2026-03-02T13:00:00Z", 2.9, 0.2)]],
    ["the draw was before", [minute("2026-03-02T11:00:00Z", 1500)]],
    ["the draw began in the same minute", [minute("2026-03-02T12:00:00Z", 1500)]],
    ["nothing but volts is read", [minute("2026-03-02T13:00:00Z", null)]],
  ])("is let be when %s", (_, minutes) => {
    expect(drawingOutOfUse(since, minutes, null)).toBeNull();
  });

  it.each([
    [3, null],
    [null, 0.05],
    [1500, 12.5],
  ])("is a danger when it draws %s W, %s A", (watts, amps) => {
    expect(drawingOutOfUse(since, [minute("2026-03-02T13:00:00Z", watts, amps)], null)).not.toBeNull();
  });

  it("keeps the first draw and the largest, and changes within a day only by a larger one", () => {
    const first = drawingOutOfUse(since, [minute("2026-03-02T13:00:00Z", 1400), minute("2026-03-02T12:30:00Z", 1200)], null);
    expect(first).toMatchObject({ fromAt: "2026-03-02T12:30:00.000Z", toAt: "2026-03-02", seen: { value: 1400 } });
    expect(drawingOutOfUse(since, [minute("2026-03-02T15:00:00Z", 900)], first)).toEqual(first);
    expect(drawingOutOfUse(since, [minute("2026-03-02T16:00:00Z", 1500)], first)?.seen?.value).toBe(1500);
    expect(drawingOutOfUse(since, [minute("2026-03-03T01:00:00Z", 900)], first)).toMatchObject({
      fromAt: first?.fromAt,
      toAt: "2026-03-03",
    });
    const late = drawingOutOfUse(since, [minute("2026-03-04T01:00:00Z", 900)], first);
    expect(drawingOutOfUse(since, [minute("2026-03-03T01:00:00Z", 900)], late)?.toAt).toBe("2026-03-04");
  });
});
