import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { appliance, kinds, minutes, noon, outlet, row, rows, screen, seconds } from "./log-builder";

const heater = appliance("120V~ 60Hz 1500W", "space heater");

/** A heater running at its rating for two minutes, with another draw between two seconds. */
function running(between: readonly [number, number], watts: number, volts: number | null = null) {
  return rows(0, 2 * minutes, (at) => ({ watts: at >= between[0] * seconds && at < between[1] * seconds ? watts : 1500, volts }));
}

describe("a draw above the rating", () => {
  it.each([1, 2, 3])("for %d s is never sustained", (length) => {
    expect(kinds(screen(running([30, 30 + length], 2100), undefined, [heater]))).toEqual([]);
  });

  it.each([6, 7, 60])("for %d s always is", (length) => {
    const found = screen(running([30, 30 + length], 2100), undefined, [heater]);
    expect(kinds(found)).toEqual(["over_rating O1 T1"]);
    expect(found.results[0]).toMatchObject({
      fromMs: noon + 30 * seconds,
      toMs: noon + (29 + length) * seconds,
      value: 2100,
      limit: 1575,
      ratio: 1.333,
    });
  });

  it("within the permitted deviation is let pass: 1500 W may draw 1575 W (IEC 60335-1 Table 1, from memory)", () => {
    expect(kinds(screen(running([30, 90], 1575), undefined, [heater]))).toEqual([]);
    expect(kinds(screen(running([30, 90], 1576), undefined, [heater]))).toEqual(["over_rating O1 T1"]);
  });

  it("is found across gaps of the log when it lasted six seconds while running", () => {
    const log = [0, 2, 4, 6, 8, 10, 12, 15, 18, 20].map((at) => row(at * seconds, { watts: at === 10 || at === 12 ? 2100 : 1500 }));
    expect(kinds(screen(log, undefined, [heater]))).toEqual([]);
    const longer = [0, 2, 4, 6, 8, 10, 13, 16, 18, 20].map((at) => row(at * seconds, { watts: at === 10 || at === 13 ? 2100 : 1500 }));
    expect(kinds(screen(longer, undefined, [heater]))).toEqual(["over_rating O1 T1"]);
  });

  it("for six seconds is found in two readings a second apart when the next comes at its end, and not when it comes a second before", () => {
    const seen = (next: number) =>
      kinds(
        screen(
          [-2, -1, 0, 1, next, next + 1].map((at) => row(at * seconds, { watts: at === 0 || at === 1 ? 2100 : 1400 })),
          undefined,
          [heater],
        ),
      );
    expect(seen(6)).toEqual(["over_rating O1 T1"]);
    expect(seen(5)).toEqual([]);
  });

  it("of one odd row is nothing, however long the log is silent behind it", () => {
    const log = [row(0, { watts: 1500 }), row(seconds, { watts: 5000 }), row(50 * seconds, { watts: 1500 })];
    expect(kinds(screen(log, undefined, [heater]))).toEqual([]);
  });

  it("ends when the receptacle is switched off, trips or is unplugged", () => {
    for (const event of ["off", "trip", "unplugged"] as const) {
      const log = [
        ...rows(0, 10 * seconds, () => ({ watts: 2100 })),
        row(10 * seconds, { event }),
        ...rows(40 * seconds, 42 * seconds, () => ({ watts: 1400 })),
      ];
      expect(screen(log, undefined, [heater]).results[0]).toMatchObject({ toMs: noon + 9 * seconds });
    }
  });
});

describe("a start-up", () => {
  const fridge = appliance("115V 60Hz 6A", "refrigerator");
  const start = (amps: readonly number[]) => [
    row(-10 * seconds, { amps: 0.1 }),
    ...amps.map((value, at) => row(at * seconds, { amps: value })),
    ...rows(amps.length * seconds, 60 * seconds, () => ({ amps: 5 })),
  ];

  it.each([
    ["one spike of ten times running", [55]],
    ["a spike that decays over eight seconds", [40, 31, 24, 19, 15, 12, 10, 8]],
    ["a slow first row before the spike", [9, 40, 30, 20, 14, 10, 8]],
  ])("falls towards running draw and is left alone: %s", (_, amps) => {
    expect(kinds(screen(start(amps), undefined, [fridge]))).toEqual([]);
  });

  it("that does not fall is a fault", () => {
    expect(kinds(screen(start(Array(8).fill(30)), undefined, [fridge]))).toEqual(["over_rating O1 T1"]);
  });

  it("that falls but stays above the limit for longer than a start takes is a fault", () => {
    expect(kinds(screen(start(Array.from({ length: 25 }, (_, at) => 8 + 30 * 0.7 ** at)), undefined, [fridge]))).toEqual([
      "over_rating O1 T1",
    ]);
  });
});

describe("a resistive load", () => {
  it("is referred to rated voltage: 1653.75 W at 126 V is 1500 W at 120 V (P ~ V^2, physics)", () => {
    expect(kinds(screen(running([0, 120], 1653.75, 126), undefined, [heater]))).toEqual([]);
  });

  it("that draws too much at low voltage is seen through it", () => {
    const found = screen(running([0, 120], 1500, 114), undefined, [heater]);
    expect(found.results[0]).toMatchObject({ kind: "over_rating", value: 1662.05 });
  });

  it("whose plate names another supply is judged at the supply it is on: 1200 W at 100 V is 1728 W at 120 V", () => {
    expect(kinds(screen(running([0, 120], 1728, 120), undefined, [appliance("AC100V 50/60Hz 1200W", "kettle")]))).toEqual([
      "over_rating O1 T1",
    ]);
  });

  it("of which only the current is measured is judged by its watts over its volts", () => {
    const amps = (value: number) =>
      screen(
        rows(0, minutes, () => ({ amps: value })),
        undefined,
        [heater],
      );
    expect(kinds(amps(13.1))).toEqual([]);
    expect(kinds(amps(13.2))).toEqual(["over_rating O1 T1"]);
  });
});

describe("motors and electronics", () => {
  it("are not referred: a fan of 100 W drawing 130 W at 125 V is above its 120 W", () => {
    expect(
      kinds(
        screen(
          rows(0, minutes, () => ({ watts: 130, volts: 125 })),
          undefined,
          [appliance("120V 100W", "fan")],
        ),
      ),
    ).toEqual(["over_rating O1 T1"]);
  });

  it("with a rated current are judged by it: 1.5 A may be 1.65 A, not 1.66 A (IEC 62368-1 B.2.5, from memory)", () => {
    const screenIt = (amps: number) =>
      screen(
        rows(0, minutes, () => ({ amps, watts: 100 })),
        undefined,
        [appliance("INPUT 100-240V~ 1.5A", "laptop charger")],
      );
    expect(kinds(screenIt(1.65))).toEqual([]);
    expect(kinds(screenIt(1.66))).toEqual(["over_rating O1 T1"]);
  });

  it.each([
    [null, 1.66],
    [0.5, 1.66],
    [95, 1.66],
  ])(
    "of which only watts are measured, with a power factor of %s, draw them over volts and factor; one above 1 is unknown",
    (powerFactor, amps) => {
      const screenIt = (value: number) =>
        kinds(
          screen(
            rows(0, minutes, () => ({ watts: value * 120 * (powerFactor === 0.5 ? 0.5 : 1), volts: 120, powerFactor })),
            undefined,
            [appliance("INPUT 100-240V~ 1.5A", "laptop charger")],
          ),
        );
      expect(screenIt(amps)).toEqual(["over_rating O1 T1"]);
      expect(screenIt(1.64)).toEqual([]);
    },
  );

  it("use the pair of a range that fits the site: 208 V on 240/208V 4500/3380W", () => {
    const dryer = appliance("240/208V 4500/3380W", "clothes dryer");
    expect(
      kinds(
        screen(
          rows(0, minutes, () => ({ watts: 4000 })),
          [outlet({ volts: 208 })],
          [dryer],
        ),
      ),
    ).toEqual(["over_rating O1 T1"]);
    expect(
      kinds(
        screen(
          rows(0, minutes, () => ({ watts: 4500 })),
          [outlet({ volts: 240 })],
          [dryer],
        ),
      ),
    ).toEqual([]);
  });

  it("of unknown kind have the most permissive row, and the reasons say so", () => {
    const found = screen(
      rows(0, minutes, () => ({ watts: 130 })),
      undefined,
      [appliance("120V 100W", null)],
    );
    expect(found.results[0]?.reasons.join(" ")).toContain("kind not known, so the most permissive row");
  });
});

describe("lamps", () => {
  it("above the fixture's maximum are too strong, and not over rating as well: 75 W in MAX 60 W", () => {
    const found = screen(
      rows(0, minutes, () => ({ watts: 75 })),
      undefined,
      [appliance("MAX 60W TYPE A E26", "table lamp")],
    );
    expect(kinds(found)).toEqual(["lamp_too_strong O1 T1"]);
    expect(
      kinds(
        screen(
          rows(0, minutes, () => ({ watts: 61 })),
          undefined,
          [appliance("MAX 60W TYPE A E26", "table lamp")],
        ),
      ),
    ).toEqual([]);
  });

  it("count together: 3 x MAX 40W may draw 120 W", () => {
    const fixture = appliance("230V~ 3xMAX 40W G9", "floor lamp");
    expect(
      kinds(
        screen(
          rows(0, minutes, () => ({ watts: 120 })),
          [outlet({ volts: 230 })],
          [fixture],
        ),
      ),
    ).toEqual([]);
    expect(
      kinds(
        screen(
          rows(0, minutes, () => ({ watts: 180 })),
          [outlet({ volts: 230 })],
          [fixture],
        ),
      ),
    ).toEqual(["lamp_too_strong O1 T1"]);
  });

  it("are referred by the filament's exponent 1.55 (from memory): 64.7 W at 126 V is 60 W at 120 V", () => {
    const found = screen(
      rows(0, minutes, () => ({ watts: 64.7, volts: 126 })),
      undefined,
      [appliance("120V MAX 60W E26", "lamp")],
    );
    expect(kinds(found)).toEqual([]);
  });
});

describe("an appliance", () => {
  it("is judged where its tag is seen, and no longer where it was", () => {
    const outlets = [outlet(), outlet({ outlet: "O2" })];
    const log = [
      ...rows(0, 10 * seconds, () => ({ outlet: "O2", tag: "T-1", watts: 100 })),
      ...rows(10 * seconds, 30 * seconds, () => ({ outlet: "O2", watts: 2000 })),
    ];
    expect(kinds(screen(log, outlets, [heater]))).toEqual(["over_rating O2 T1"]);
    const left = [...log, ...rows(30 * seconds, 60 * seconds, () => ({ watts: 2000 }))];
    expect(kinds(screen(left, outlets, [heater]))).toEqual(["over_rating O2 T1"]);
  });

  it("that comes back to where it was is judged there again", () => {
    const outlets = [outlet(), outlet({ outlet: "O2" })];
    const tagged = (name: string, from: number, watts: number) =>
      rows(from, from + 20 * seconds, () => ({ outlet: name, tag: "T1", watts }));
    const log = [...tagged("O1", 0, 100), ...tagged("O2", 20 * seconds, 100), ...tagged("O1", 40 * seconds, 2000)];
    expect(kinds(screen(log, outlets, [heater]))).toEqual(["over_rating O1 T1"]);
  });

  it("that is the only one recorded at an outlet is judged where the record or the log names no receptacle", () => {
    const unnamed = appliance("120V 1500W", "space heater", { receptacle: null });
    expect(
      kinds(
        screen(
          rows(0, minutes, () => ({ receptacle: "2", watts: 2000 })),
          undefined,
          [unnamed],
        ),
      ),
    ).toEqual(["over_rating O1 T1"]);
    expect(
      kinds(
        screen(
          rows(0, minutes, () => ({ receptacle: null, watts: 2000 })),
          undefined,
          [heater],
        ),
      ),
    ).toEqual(["over_rating O1 T1"]);
    expect(
      kinds(
        screen(
          rows(0, minutes, () => ({ receptacle: "2", watts: 2000 })),
          undefined,
          [heater],
        ),
      ),
    ).toEqual([]);
    const two = [unnamed, appliance("120V 75W", "fan", { tag: "T2", receptacle: null })];
    expect(
      kinds(
        screen(
          rows(0, minutes, () => ({ receptacle: "2", watts: 2000 })),
          undefined,
          two,
        ),
      ),
    ).toEqual([]);
  });

  it("is unknown after it was unplugged, until a tag is seen", () => {
    const log = [row(0, { event: "unplugged" }), ...rows(seconds, minutes, () => ({ watts: 2000 }))];
    expect(kinds(screen(log, undefined, [heater]))).toEqual([]);
  });
});

describe("whatever the draw", () => {
  it("below the limit nothing is reported, and six seconds well above it always are", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 1575, noNaN: true }), { minLength: 30, maxLength: 60 }),
        fc.integer({ min: 5, max: 20 }),
        (draws, at) => {
          const log = draws.map((watts, index) => row(index * seconds, { watts }));
          expect(screen(log, undefined, [heater]).results).toEqual([]);
          const injected = log.map((reading, index) => (index >= at && index < at + 6 ? { ...reading, watts: 2205 } : reading));
          expect(kinds(screen(injected, undefined, [heater]))).toEqual(["over_rating O1 T1"]);
        },
      ),
    );
  });

  it("the order within 60 s does not matter", () => {
    const log = running([30, 60], 2000);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 50 }), { minLength: log.length, maxLength: log.length }), (delays) => {
        const shuffled = log.map((reading, index) => ({ reading, key: index + delays[index]! })).sort((a, b) => a.key - b.key);
        expect(
          screen(
            shuffled.map(({ reading }) => reading),
            undefined,
            [heater],
          ),
        ).toEqual(screen(log, undefined, [heater]));
      }),
      { numRuns: 30 },
    );
  });
});
