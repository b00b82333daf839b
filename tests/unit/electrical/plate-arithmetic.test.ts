import { describe, expect, it } from "vitest";
import { wattsPerHorsepower } from "@/lib/electrical/contradictions";
import { permittedInput } from "@/lib/electrical/deviation-tables";
import { loadKindOf } from "@/lib/electrical/load-kind";
import { parseRatingText } from "@/lib/electrical/parse-rating";
import { allowedInput, motorLeads } from "@/lib/electrical/permitted-deviation";
import { applianceLimit, referred, voltageFactor } from "@/lib/watch/appliance-limit";

const limitOf = (text: string, category: string, siteVolts: number) =>
  applianceLimit({ tag: "T", site: null, outlet: null, receptacle: null, category, rating: parseRatingText(text) }, siteVolts);

describe("amperes that a plate does not print (IEC 60335-1, 3.1.6, as quoted: heating W / V; W = V x A x power factor)", () => {
  it.each([
    ["120V~ 60Hz 1500W", 120, 12.5],
    ["230V~ 50Hz 2.2kW IPX4", 230, 9.565],
    ["120V 60Hz 1550W", 120, 12.917],
  ])("%s on %d V: %d A, and its permitted deviation", (text, volts, amps) => {
    const { watts } = parseRatingText(text);
    expect(watts! / volts).toBeCloseTo(amps, 3);
    expect(limitOf(text, "kettle", volts).amps).toBeCloseTo(amps * 1.05, 2);
  });

  it("are not made up for a motor, whose power factor is not known", () => {
    expect(limitOf("120V 720W", "vacuum cleaner", 120).amps).toBe(Number.POSITIVE_INFINITY);
  });

  it("of a strip of 125 V, 15 A and 1875 W agree: 15.0 A", () => {
    const { watts, amps, volts, contradictions } = parseRatingText("125V 15A 1875W MAX");
    expect(watts! / volts[0]!.from).toBe(amps);
    expect(contradictions).toEqual([]);
  });

  it("12.5 A at 120 V are 1500 VA, and 450 W of 750 VA are a power factor of 0.600", () => {
    const plate = parseRatingText("AC 120 V 60 Hz 12.5 A");
    expect(plate.volts[0]!.from * plate.amps!).toBe(1500);
    const { watts, voltAmperes, contradictions } = parseRatingText("750VA 450W");
    expect(watts! / voltAmperes!).toBeCloseTo(0.6, 9);
    expect(contradictions).toEqual([]);
  });
});

describe("horsepower is mechanical output (1 hp = 746 W; from memory)", () => {
  it.each([
    [1 / 4, 186.5],
    [1 / 3, 248.67],
    [1 / 2, 373],
    [3 / 4, 559.5],
    [1, 746],
    [1.5, 1119],
  ])("%d hp is %d W", (horsepower, watts) => {
    expect(horsepower * wattsPerHorsepower).toBeCloseTo(watts, 2);
  });

  it.each([
    ["1/4HP", 0.25, 5.8],
    ["1/3HP", 1 / 3, 7.2],
    ["1/2HP", 0.5, 9.8],
    ["3/4HP", 0.75, 13.8],
    ["1HP", 1, 16],
  ])(
    "a plate of 115 V and %s (%d hp) is judged by the %d A it prints (NEC Table 430.248, from memory), not by its output",
    (printed, hp, amps) => {
      const limit = limitOf(`115V 1PH 60HZ ${printed} ${amps}A`, "compressor", 120);
      expect(limit).toMatchObject({ byCurrent: true, watts: Number.POSITIVE_INFINITY });
      expect(limit.amps).toBeCloseTo(permittedInput("motorAmps", amps).ceiling, 9);
      expect(limit.amps).toBeGreaterThan(((hp * wattsPerHorsepower) / 115) * 1.15);
    },
  );

  it("a plate with horsepower only gives no limit, and says so", () => {
    const limit = limitOf("115V 1/2HP", "compressor", 120);
    expect([limit.watts, limit.amps]).toEqual([Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]);
    expect(limit.rule).toContain("no limit is known");
  });
});

describe("the edges of the rows of IEC 60335-1, 10.1 and 10.2 (Tables 1 and 2, from memory)", () => {
  it.each([
    ["heatingWatts", 25, null, 30],
    ["heatingWatts", 26, 23.4, 28.6],
    ["motorWatts", 26, null, 31.2],
    ["heatingAmps", 0.2, null, 0.24],
    ["heatingAmps", 0.21, 0.189, 0.231],
    ["heatingAmps", 1, 0.9, 1.1],
    ["heatingAmps", 1.01, 0.909, 1.11],
    ["motorAmps", 0.2, null, 0.24],
    ["motorAmps", 1.5, null, 1.8],
    ["motorAmps", 1.51, null, 1.81],
  ] as const)("%s at %d: from %s to %d", (table, rated, floor, ceiling) => {
    const bounds = permittedInput(table, rated);
    expect(bounds.ceiling).toBeCloseTo(ceiling, 9);
    if (floor === null) expect(bounds.floor).toBeNull();
    else expect(bounds.floor).toBeCloseTo(floor, 9);
  });

  it("a motor of just half the input of a combined appliance leaves it in the heating row (more than 50 %, 10.1, as quoted)", () => {
    const half = parseRatingText("800W (MOTOR 400W + HEATER 400W)");
    const more = parseRatingText("800W (MOTOR 401W + HEATER 399W)");
    expect([motorLeads(half), motorLeads(more)]).toEqual([false, true]);
    expect([half, more].map((rating) => allowedInput(rating, "combined", 120).watts)).toEqual([840, 920]);
  });

  it("a motor of 18.75 % of 800 W leaves it in the heating row", () => {
    const { motorWatts, watts } = parseRatingText("800W (MOTOR 150W + HEATER 650W)");
    expect(motorWatts! / watts!).toBe(0.1875);
  });

  it("a small motor of 15 W may draw 18 W, one of 40 W 48 W", () => {
    const allowed = (text: string) => allowedInput(parseRatingText(text), loadKindOf("electric shaver"), 120).watts;
    expect([allowed("120V 15W"), allowed("120V 40W")]).toEqual([18, 48]);
  });
});

describe("resistances over voltage (P ~ V^2; physics)", () => {
  it.each([
    [1850, 220, 240, 2201.65],
    [4500, 240, 208, 3380],
    [1200, 100, 120, 1728],
  ])("%d W at %d V is, at %d V, %d W", (watts, rated, volts, expected) => {
    const limit = limitOf(`${rated}V ${watts}W`, "kettle", rated);
    expect(watts / voltageFactor(limit, volts, "W")).toBeCloseTo(expected, 1);
    expect(referred(limit, expected, volts, "W")).toBeCloseTo(watts, 1);
  });

  it("a wide range with a figure for each end is judged by the end that is nearer (limits more than 10 % of their mean apart, 10.1, as quoted)", () => {
    const watts = (siteVolts: number) => allowedInput(parseRatingText("100-240V~ 1000-1400W"), "motor", siteVolts).watts;
    expect([watts(120), watts(230)]).toEqual([1150, 1610]);
  });
});

describe("kinds by category", () => {
  it.each([
    ["heating", ["heater", "kettle", "toaster", "coffee maker", "iron", "hair dryer", "cooking", "water heater"]],
    ["combined", ["dishwasher", "dryer", "washing machine"]],
    ["motor", ["vacuum", "fan", "refrigerator", "freezer", "dehumidifier", "air conditioner", "kitchen machines", "cutters"]],
    ["electronics", ["computers", "screens", "sound", "network", "printers", "chargers"]],
    ["lamp", ["lamps", "light strings", "filament lamp"]],
  ] as const)("%s: %j (own list)", (kind, categories) => {
    expect(categories.map((category) => loadKindOf(category))).toEqual(categories.map(() => kind));
  });
});

describe("a lamp of another strength", () => {
  it("of 75 W where MAX 60 W is marked is 125 %; 3 x MAX 40 W are 120 W together (IEC 60598-1, 3.2, from memory)", () => {
    const [one, three] = ["MAX 60W TYPE A E26", "230V~ 3xMAX 40W G9"].map((text) => parseRatingText(text).lamp!);
    expect(75 / one!.wattsEach).toBe(1.25);
    expect(three!.wattsEach * three!.count).toBe(120);
    expect(limitOf("MAX 60W TYPE A E26", "table lamp", 120)).toMatchObject({ lamp: true });
    expect(limitOf("MAX 60W TYPE A E26", "table lamp", 120).watts).toBeLessThan(75);
  });
});
