import { describe, expect, it } from "vitest";
import {
  circuitShares,
  conductorAmps,
  conductorCaps,
  continuousLoad,
  cordAmps,
  cordSetAmps,
  deviceForContinuous,
  flexAmps,
  receptacleRatings,
} from "@/lib/electrical/circuit-limits";
import { deviationSets } from "@/lib/electrical/deviation-sets";
import { permittedInput } from "@/lib/electrical/deviation-tables";
import { calibrationPoints } from "@/lib/electrical/device-curve";
import { instantBands } from "@/lib/electrical/device-instant";
import { loadKindOf } from "@/lib/electrical/load-kind";
import { parseRatingText } from "@/lib/electrical/parse-rating";
import { allowedInput } from "@/lib/electrical/permitted-deviation";
import { plugFuseAmps, plugSystems, receptacleLimit } from "@/lib/electrical/plug-systems";
import { applianceLimit, referred } from "@/lib/watch/appliance-limit";

const resistor = (text: string) =>
  applianceLimit({ tag: "T", site: null, outlet: null, receptacle: null, category: "space heater", rating: parseRatingText(text) }, 120);

describe("a resistance referred to rated voltage (P = V^2 / R; physics)", () => {
  it.each([
    [108, 1215, 11.25],
    [114, 1353.75, 11.875],
    [120, 1500, 12.5],
    [126, 1653.75, 13.125],
    [127, 1680.1, 13.229],
  ])("a 1500 W, 120 V heater at %d V draws %d W and %d A, which is 1500 W and 12.5 A at 120 V", (volts, watts, amps) => {
    const limit = resistor("120V 1500W");
    expect(1500 * (volts / 120) ** 2).toBeCloseTo(watts, 1);
    expect(12.5 * (volts / 120)).toBeCloseTo(amps, 3);
    expect(referred(limit, watts, volts, "W")).toBeCloseTo(1500, 0);
    expect(referred(limit, amps, volts, "A")).toBeCloseTo(12.5, 2);
  });

  it("1653.75 W at 126 V is 10.25 % above the plate as measured and no fault", () => {
    const limit = resistor("120V 1500W");
    expect(1653.75).toBeGreaterThan(limit.watts);
    expect(referred(limit, 1653.75, 126, "W")).toBeLessThanOrEqual(limit.watts);
  });
});

describe("circuits and receptacles (NEC, NFPA 70)", () => {
  it("continuous is 3 h or more (Article 100), and takes at most 80 % of a standard device (210.20(A))", () => {
    expect(continuousLoad.seconds).toBe(3 * 3600);
    expect(continuousLoad.share).toBe(0.8);
    expect(deviceForContinuous(12)).toBe(15);
  });

  it("one item not fastened in place takes at most 80 %, all fastened in place 50 % of a circuit (210.23(A)): 7.5 A of 15 A, 10 A of 20 A", () => {
    expect([15, 20].map((amps) => amps * circuitShares.fastenedInPlace)).toEqual([7.5, 10]);
    expect([15, 20].map((amps) => amps * circuitShares.oneItem)).toEqual([12, 16]);
  });

  it.each([
    [15, [15], false],
    [20, [15, 20], true],
    [30, [30], false],
    [40, [40, 50], true],
    [50, [50], false],
  ])("a %d A circuit may have receptacles of %j A (Table 210.21(B)(3))", (circuit, receptacles, confirmed) => {
    const row = receptacleRatings.find(({ circuitAmps }) => circuitAmps === circuit);
    expect(row).toMatchObject({ receptacleAmps: receptacles, source: { confirmed } });
  });

  it("1500 W at 120 V is 12.5 A: over the 12 A of a 15 A receptacle (104.2 %), under the circuit's 15 A", () => {
    const limit = receptacleLimit("NEC 210.21(B)", 15, 15)?.amps ?? 0;
    expect(limit).toBe(12);
    expect(Math.round((12.5 / limit) * 1000) / 10).toBe(104.2);
    expect(receptacleLimit("NEC 210.21(B)", 20, 15)?.amps).toBe(12);
    expect(receptacleLimit("NEC 210.21(B)", 15, 30)).toBeNull();
  });

  it.each([
    [14, 15],
    [12, 20],
    [10, 30],
  ])("%d AWG copper is protected at %d A (240.4(D) from memory; CEC 14-104(2) has the same caps)", (awg, amps) => {
    expect(conductorCaps[awg]).toBe(amps);
  });

  it.each([
    [14, 15, 20, 25],
    [12, 20, 25, 30],
    [10, 30, 35, 40],
  ])("%d AWG copper carries %d, %d and %d A at 60, 75 and 90 C (Table 310.16, from memory but 10 AWG at 90 C)", (awg, ...amps) => {
    expect(conductorAmps[awg]).toEqual(amps);
  });
});

describe("cords", () => {
  it.each([
    [18, 10],
    [17, 12],
    [16, 13],
    [14, 18],
    [12, 25],
  ])("%d AWG with two current-carrying conductors carries %d A (NEC Table 400.5(A), column B)", (awg, amps) => {
    expect(cordAmps[awg]).toBe(amps);
  });

  it.each([
    [16, 50, 13],
    [16, 75, 10],
    [14, 50, 15],
    [14, 75, null],
    [10, 75, 20],
    [12, 75, 15],
    [12, 50, 20],
    [18, 25, null],
  ])("a cord set of %d AWG, %d ft, may be rated %s A (UL 817, as quoted)", (awg, feet, amps) => {
    expect(cordSetAmps(awg, feet)).toBe(amps);
  });

  it("a 12.5 A heater takes 96.2 % of a 16 AWG, 50 ft set and 125 % of a 75 ft one", () => {
    expect(Math.round((12.5 / cordSetAmps(16, 50)!) * 1000) / 10).toBe(96.2);
    expect(12.5 / cordSetAmps(16, 75)!).toBe(1.25);
  });

  it.each([
    [0.5, 3],
    [0.75, 6],
    [1, 10],
    [1.25, 13],
    [1.5, 15],
  ])("%d mm2 flex carries %d A (IET Code of Practice, Table VII.1, as quoted)", (area, amps) => {
    expect(flexAmps[area]).toBe(amps);
  });
});

describe("plugs of 230 V systems", () => {
  it("BS 1363: up to 700 W a 3 A fuse, above it 13 A (rule of thumb); 700 W at 230 V is 3.043 A, 2990 W is 13.000 A, 3000 W 13.043 A", () => {
    expect([700, 701, 2990, 3000].map((watts) => plugFuseAmps(watts, 230))).toEqual([3, 13, 13, null]);
    expect(plugFuseAmps(3000, 240)).toBe(13);
    expect(plugSystems["BS 1363"].amps).toBe(13);
  });

  it("CEE 7: 16 A for a short time, 3680 W at 230 V; about 10 A for hours (from memory)", () => {
    expect(plugSystems["CEE 7"].amps * 230).toBe(3680);
    expect(plugSystems["CEE 7"]).toMatchObject({ continuousAmps: 10, source: { confirmed: false } });
    expect(receptacleLimit("CEE 7", 10, null)?.amps).toBe(10);
  });

  it("AS/NZS 3112: 10 A, 2300 W at 230 V (from memory)", () => {
    expect(plugSystems["AS/NZS 3112"].amps * 230).toBe(2300);
  });
});

describe("overcurrent devices", () => {
  it("UL 489: holds 100 %, trips at 135 % within 1 h and at 200 % within 2 min; 15 A: 20.25 A and 30 A, 20 A: 27 A", () => {
    const points = calibrationPoints["UL 489"].map(({ multiple, trips, seconds }) => [multiple, trips, seconds]);
    expect(points).toEqual([
      [1, false, Number.POSITIVE_INFINITY],
      [1.35, true, 3600],
      [2, true, 120],
    ]);
    expect([15 * 1.35, 15 * 2, 20 * 1.35]).toEqual([20.25, 30, 27]);
  });

  it("IEC 60898-1: 16 A holds 18.08 A and trips at 23.2 A within 1 h; B16 trips at once between 48 and 80 A", () => {
    const [hold, trip] = calibrationPoints["IEC 60898-1"];
    expect(16 * hold!.multiple).toBeCloseTo(18.08, 9);
    expect(16 * trip!.multiple).toBeCloseTo(23.2, 9);
    expect([16 * instantBands.B.holds, 16 * (instantBands.B.trips ?? 0)]).toEqual([48, 80]);
  });
});

describe("electronics (IEC 62368-1, B.2.5, 110 % from memory; IEC 60950-1, 1.6.2, the same)", () => {
  it("an adaptor marked 1.5 A passes with 1.65 A (110.0 %) and not with 1.66 A (110.7 %)", () => {
    for (const table of ["electronics", "electronics60950"] as const) {
      const { ceiling } = permittedInput(table, 1.5);
      expect(1.65).toBeLessThanOrEqual(ceiling + 1e-9);
      expect(1.66).toBeGreaterThan(ceiling);
    }
  });
});

describe("standard and edition, chosen for a site", () => {
  it.each([
    ["IEC 60335-1, 5th edition", 300, 320],
    ["IEC 60335-1, 4th edition", 300, 320],
    ["UL 1026", 300, 315],
    ["UL 1026", 1500, 1575],
  ] as const)("%s lets a toaster of %d W draw %d W, and says which it is", (set, rated, ceiling) => {
    const allowed = allowedInput(parseRatingText(`120V ${rated}W`), loadKindOf("toaster"), 120, set);
    expect(allowed.watts).toBeCloseTo(ceiling, 9);
    expect(allowed.rule).toContain(set.startsWith("IEC") ? set.slice(13) : "UL 1026");
  });

  it("leaves motors by the motor row in every set (IEC 60335-1, 10.1)", () => {
    for (const set of Object.keys(deviationSets) as (keyof typeof deviationSets)[])
      expect(allowedInput(parseRatingText("120V 350W"), "motor", 120, set).watts).toBe(410);
  });
});
