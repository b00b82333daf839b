import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseRatingText } from "@/lib/electrical/parse-rating";
import type { Rating } from "@/lib/electrical/rating";
import { unreadRating } from "@/lib/electrical/unread-rating";

/** A single voltage. */
const at = (volts: number) => ({ from: volts, to: volts });
const span = (from: number, to: number) => ({ from, to });

/** Invented plate texts in the forms that IEC 60335-1 clause 7.1 and NEC 422.60(A) ask for, and the whole expected reading. */
const plates: readonly (readonly [string, Partial<Rating>])[] = [
  ["120V~ 60Hz 1500W", { volts: [at(120)], hertz: [60], watts: 1500 }],
  ["AC 120 V 60 Hz 12.5 A", { volts: [at(120)], hertz: [60], amps: 12.5 }],
  [
    "220-240V~ 50/60Hz 1850-2200W",
    {
      volts: [span(220, 240)],
      hertz: [50, 60],
      watts: 2200,
      wattsAtVolts: [
        { volts: 220, watts: 1850 },
        { volts: 240, watts: 2200 },
      ],
    },
  ],
  ["INPUT 100-240V~ 50/60Hz 1.5A OUTPUT 20V=3.25A", { volts: [span(100, 240)], hertz: [50, 60], amps: 1.5 }],
  ["MAX 60W TYPE A E26", { lamp: { wattsEach: 60, count: 1 } }],
  ["230V~ 50Hz 2.2kW IPX4 \u29c8", { volts: [at(230)], hertz: [50], watts: 2200, ip: "IPX4", protectionClass: "II" }],
  ["115V 1PH 60HZ 1/2HP 9.8A", { volts: [at(115)], phases: 1, hertz: [60], horsepower: 0.5, amps: 9.8 }],
  [
    "240/208V 4500/3380W",
    {
      volts: [at(240), at(208)],
      watts: 4500,
      wattsAtVolts: [
        { volts: 240, watts: 4500 },
        { volts: 208, watts: 3380 },
      ],
    },
  ],
  ["125V 15A 1875W MAX", { volts: [at(125)], amps: 15, watts: 1875 }],
  ["750VA 450W", { voltAmperes: 750, watts: 450 }],
  ["800W (MOTOR 150W + HEATER 650W)", { watts: 800, motorWatts: 150 }],
  ["230V~ 3xMAX 40W G9", { volts: [at(230)], lamp: { wattsEach: 40, count: 3 } }],
  ["AC100V 50/60Hz 1200W", { volts: [at(100)], hertz: [50, 60], watts: 1200 }],
  ["230 V ~ 1,5 kW 6,5 A", { volts: [at(230)], watts: 1500, amps: 6.5 }],
  ["MICROWAVE INPUT 1550W OUTPUT 1000W 120V 60Hz 2450MHz", { volts: [at(120)], hertz: [60], watts: 1550 }],
  ["MODEL HX-1500W S/N 24A16 | 120V~60Hz1400W | DATE CODE 2416", { volts: [at(120)], hertz: [60], watts: 1400 }],
  ["Larkfield Ltd\nModel: KT-220A\nS/N 12345W\n230V~ 50Hz 2000W\nMade in 2016", { volts: [at(230)], hertz: [50], watts: 2000 }],
  ["120V 60Hz 1550W INPUT 1000W OUTPUT", { volts: [at(120)], hertz: [60], watts: 1550 }],
  ["INPUT: 100-240V~ 50/60Hz 0.6A | OUTPUT: 5V\u23933A / 9V\u23932A", { volts: [span(100, 240)], hertz: [50, 60], amps: 0.6 }],
  ["5V 2A INPUT 100-240V", { volts: [span(100, 240)] }],
  [
    "100-240V 1.5A-0.8A 50-60Hz",
    {
      volts: [span(100, 240)],
      hertz: [50, 60],
      amps: 1.5,
      ampsAtVolts: [
        { volts: 100, amps: 1.5 },
        { volts: 240, amps: 0.8 },
      ],
    },
  ],
  [
    "115/230V 60/50Hz 10/5A",
    {
      volts: [at(115), at(230)],
      hertz: [60, 50],
      amps: 10,
      ampsAtVolts: [
        { volts: 115, amps: 10 },
        { volts: 230, amps: 5 },
      ],
    },
  ],
  ["120/240V 1 PH 3W 60Hz 30A", { volts: [at(120), at(240)], hertz: [60], phases: 1, amps: 30 }],
  ["120V 60Hz MOTOR 4.2A HEATER 1200W", { volts: [at(120)], hertz: [60], watts: 1704, motorWatts: 504 }],
  ["230V 50Hz 1'500W", { volts: [at(230)], hertz: [50], watts: 1500 }],
  ["Schutzklasse II 230 V 30 W", { volts: [at(230)], watts: 30, protectionClass: "II" }],
  [
    "220V-240V~ 50Hz/60Hz 1800W-2150W",
    {
      volts: [span(220, 240)],
      hertz: [50, 60],
      watts: 2150,
      wattsAtVolts: [
        { volts: 220, watts: 1800 },
        { volts: 240, watts: 2150 },
      ],
    },
  ],
  ["Standby 0.5W Max 1200W 120V", { volts: [at(120)], watts: 1200 }],
  ["Battery 18V 4.0Ah Charger input 120V 60Hz 0.6A", { volts: [at(120)], hertz: [60], amps: 0.6 }],
  ["400V 3N~ 50Hz 9kW", { volts: [at(400)], phases: 3, hertz: [50], watts: 9000 }],
  ["2x40W MAX TYPE B 120V", { volts: [at(120)], lamp: { wattsEach: 40, count: 2 } }],
  ["USE (3) 60 WATT MAX TYPE B", { lamp: { wattsEach: 60, count: 3 } }],
  ["WARNING - Risk of Fire - Use 60 W maximum, type A", { lamp: { wattsEach: 60, count: 1 } }],
  ["MAX. 1500W 120V", { volts: [at(120)], watts: 1500 }],
  ["115V 60Hz 1.5A LAMP MAX 15W", { volts: [at(115)], hertz: [60], amps: 1.5, lamp: { wattsEach: 15, count: 1 } }],
  ["230V 2x750W", { volts: [at(230)], watts: 1500 }],
  ["1000W+500W 230V", { volts: [at(230)], watts: 1500 }],
  ["230V 13A FUSE 2,200 W", { volts: [at(230)], watts: 2200 }],
  ["FUSE 10A 230V 50Hz 2000W", { volts: [at(230)], hertz: [50], watts: 2000 }],
  ["120V 60Hz 500mA", { volts: [at(120)], hertz: [60], amps: 0.5 }],
  ["230V 50 Hz 1 500 W", { volts: [at(230)], hertz: [50], watts: 1500 }],
  ["120V 1200W HIGH 600W LOW", { volts: [at(120)], watts: 1200 }],
  ["3~ 400V 16A", { volts: [at(400)], phases: 3, amps: 16 }],
  ["DOUBLE INSULATED 120VAC 60CYCLES 3 AMPS", { volts: [at(120)], hertz: [60], amps: 3, protectionClass: "II" }],
  ["CLASS 2 120V 20W", { volts: [at(120)], watts: 20 }],
  ["VOLTS: 120 AMPS: 12.5 HZ: 60", { volts: [at(120)], amps: 12.5, hertz: [60] }],
  ["Volts 120 Hz 60 Watts 1500", { volts: [at(120)], hertz: [60], watts: 1500 }],
  ["RATED VOLTAGE: 230 V RATED POWER: 2000 W RATED FREQUENCY: 50 Hz", { volts: [at(230)], hertz: [50], watts: 2000 }],
  ["RATED VOLTAGE: 220-240 | RATED POWER: 2000 | FREQUENCY: 50", { volts: [span(220, 240)], hertz: [50], watts: 2000 }],
  ["230-240V 50Hz MW INPUT POWER: 1270W MW OUTPUT POWER: 800W GRILL: 1000W", { volts: [span(230, 240)], hertz: [50], watts: 1270 }],
  ["120V~60Hz 1350W(MICROWAVE) 900W(OUTPUT)", { volts: [at(120)], hertz: [60], watts: 1350 }],
  ["USE TYPE A BULB MAX 60W OR CFL MAX 13W", { lamp: { wattsEach: 60, count: 1 } }],
  ["230V 750/1250/2000W 50Hz", { volts: [at(230)], hertz: [50], watts: 2000 }],
  ["HEATER 1400W MOTOR 100W 120V", { volts: [at(120)], watts: 1500, motorWatts: 100 }],
  ["3000W max. 230V 13A extension lead", { volts: [at(230)], watts: 3000, amps: 13 }],
  ["220V~240V 50Hz 2000W", { volts: [span(220, 240)], hertz: [50], watts: 2000 }],
  ["120V 60Hz 3.0A REFRIGERANT R134a 4.2 OZ DESIGN PRESSURE HIGH 235 PSI", { volts: [at(120)], hertz: [60], amps: 3 }],
  ["60Hz", { hertz: [60] }],
  ["2450MHz 18V 4Ah", { volts: [at(18)] }],
  ["", {}],
];

describe("the text of a rating plate", () => {
  it.each(plates)("is read as units: %s", (text, expected) => {
    expect(parseRatingText(text)).toEqual({ ...unreadRating, ...expected });
  });

  it("is refused where letters stand among the digits", () => {
    const rating = parseRatingText("12O V 1OOOW");
    expect([rating.volts, rating.watts]).toEqual([[], null]);
    expect(rating.contradictions).toHaveLength(2);
  });

  it("is mended where V x A = W proves the figure, and says so", () => {
    const rating = parseRatingText("12O V 60Hz 12.5A 1500W");
    expect(rating.volts).toEqual([at(120)]);
    expect(rating.contradictions).toEqual(['"12O V" has letters among its digits; V x A = W proves 120.']);
  });
});

describe("a plate that contradicts itself", () => {
  it.each([
    ["120V 10A 1500W", /1200 VA, less than the 1500 W/],
    ["120V 60Hz 500W 12.5A", /120 V x 12\.5 A = 1500 VA, far more than the 500 W printed: a power factor of 0\.33/],
    ["450VA 750W", /power factor 1\.67/],
    ["1HP 500W", /746 W of mechanical output/],
    ["800W (MOTOR 150W + HEATER 450W)", /= 600 W, but the plate prints 800 W/],
    ["240/208V 4500/2000W", /but the plate prints 4500 W at 240 V/],
    ["1500W 120V 1200W", /1500 W and 1200 W; the highest is used/],
  ])("shows the arithmetic: %s", (text, sentence) => {
    expect(parseRatingText(text).contradictions).toEqual([expect.stringMatching(sentence)]);
  });

  it("doubts neither a motor's power factor of 0.6, nor a small adaptor, nor a printed output", () => {
    for (const text of ["120V 720W 10A", "100-240V 45W 1.2A", "1/2HP 115V 9.8A 373W"])
      expect(parseRatingText(text).contradictions).toEqual([]);
  });

  it("lets (240 / 208)^2 pairs pass, as 4500 x (208/240)^2 = 3380", () => {
    expect(parseRatingText("240/208V 4500/3380W").contradictions).toEqual([]);
  });
});

describe("any text at all", () => {
  it("is read without failure and never gives zero or nonsense", () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 80 }), (text) => {
        const { watts, amps, volts } = parseRatingText(text);
        for (const value of [watts, amps, ...volts.flatMap((range) => [range.from, range.to])]) {
          if (value !== null) expect(value).toBeGreaterThan(0);
        }
      }),
    );
  });

  it("gives back the watts, volts and amps that were printed, in any order and with words between", () => {
    const words = fc.constantFrom("", " ", " | ", "\n", ", ", " MADE IN NORDHOLM ");
    const figures = fc.record({
      volts: fc.integer({ min: 100, max: 250 }),
      watts: fc.integer({ min: 1, max: 9999 }),
      milliamps: fc.integer({ min: 100, max: 20000 }),
    });
    fc.assert(
      fc.property(figures, words, fc.boolean(), ({ volts, watts, milliamps }, gap, turned) => {
        const cells = [`${volts}V`, `${watts}W`, `${milliamps / 1000}A`];
        const rating = parseRatingText((turned ? cells.reverse() : cells).join(gap));
        expect([rating.volts, rating.watts, rating.amps]).toEqual([[at(volts)], watts, milliamps / 1000]);
      }),
    );
  });

  it("long ones are read in bounded time", () => {
    const started = performance.now();
    parseRatingText("1".repeat(100_000));
    parseRatingText("1-".repeat(50_000));
    parseRatingText("O0".repeat(50_000));
    expect(performance.now() - started).toBeLessThan(1000);
  });
});
