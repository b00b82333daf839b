import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { permittedInput } from "@/lib/electrical/deviation-tables";
import { loadKindOf } from "@/lib/electrical/load-kind";
import { parseRatingText } from "@/lib/electrical/parse-rating";
import { allowedInput, allowedLamps, motorLeads, ratedInput } from "@/lib/electrical/permitted-deviation";

describe("permitted deviation of the power input (IEC 60335-1, 10.1 Table 1, from memory)", () => {
  it.each([
    ["heatingWatts", 20, null, 24],
    ["heatingWatts", 100, 90, 110],
    ["heatingWatts", 200, 180, 220],
    ["heatingWatts", 201, 180.9, 221],
    ["heatingWatts", 300, 270, 320],
    ["heatingWatts", 400, 360, 420],
    ["heatingWatts", 1500, 1350, 1575],
    ["heatingWatts", 2000, 1800, 2100],
    ["motorWatts", 25, null, 30],
    ["motorWatts", 250, null, 300],
    ["motorWatts", 300, null, 360],
    ["motorWatts", 301, null, 361],
    ["motorWatts", 350, null, 410],
    ["motorWatts", 400, null, 460],
    ["motorWatts", 800, null, 920],
    ["motorWatts", 1200, null, 1380],
  ] as const)("%s at %d W: from %s to %d W", (table, rated, floor, ceiling) => {
    const bounds = permittedInput(table, rated);
    expect(bounds.ceiling).toBeCloseTo(ceiling, 9);
    expect(bounds.floor === null ? null : Math.round(bounds.floor * 1000) / 1000).toBe(floor);
  });
});

describe("permitted deviation of the current (IEC 60335-1, 10.2 Table 2, from memory)", () => {
  it.each([
    ["heatingAmps", 0.8, 0.72, 0.88],
    ["heatingAmps", 1.5, 1.35, 1.6],
    ["heatingAmps", 12.5, 11.25, 13.125],
    ["motorAmps", 1.0, null, 1.2],
    ["motorAmps", 1.8, null, 2.1],
    ["motorAmps", 6.0, null, 6.9],
  ] as const)("%s at %d A: from %s to %d A", (table, rated, floor, ceiling) => {
    const bounds = permittedInput(table, rated);
    expect(bounds.ceiling).toBeCloseTo(ceiling, 9);
    if (floor === null) expect(bounds.floor).toBeNull();
    else expect(bounds.floor).toBeCloseTo(floor, 9);
  });
});

describe("other product families", () => {
  it("electronics may take 110 % of their rated current (IEC 62368-1 B.2.5, from memory): 1.5 A, 1.65 A", () => {
    expect(allowedInput(parseRatingText("INPUT 100-240V~ 1.5A"), "electronics", 120).amps).toBeCloseTo(1.65, 9);
  });

  it("household cooking appliances by UL 1026, 31.1 take at most 105 % of the marked rating", () => {
    expect(permittedInput("householdCooking", 1000).ceiling).toBe(1050);
  });

  it("lamps of 60 W may draw 62.9 W (IEC 60064: 104 % + 0.5 W, from memory), three of 40 W 126.3 W", () => {
    expect(allowedLamps({ wattsEach: 60, count: 1 }).watts).toBeCloseTo(62.9, 9);
    expect(allowedLamps({ wattsEach: 40, count: 3 }).watts).toBeCloseTo(126.3, 9);
  });
});

describe("the row of an appliance", () => {
  it("is the heating row for a combined appliance unless its motor takes more than half (IEC 60335-1, 10.1)", () => {
    const small = parseRatingText("800W (MOTOR 150W + HEATER 650W)");
    const large = parseRatingText("800W (MOTOR 450W + HEATER 350W)");
    expect([motorLeads(small), motorLeads(large)]).toEqual([false, true]);
    expect([allowedInput(small, "combined", 120).watts, allowedInput(large, "combined", 120).watts]).toEqual([840, 920]);
  });

  it("is the most permissive one where the kind is unknown", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5000 }), (watts) => {
        const rating = parseRatingText(`120V ${watts}W`);
        const unknown = allowedInput(rating, "unknown", 120).watts!;
        for (const kind of ["heating", "combined", "motor", "small_motor", "electronics", "lamp"] as const) {
          expect(unknown).toBeGreaterThanOrEqual(allowedInput(rating, kind, 120).watts! - 1e-9);
        }
      }),
    );
  });

  it("shows the arithmetic and its source in one sentence", () => {
    expect(allowedInput(parseRatingText("120V 300W"), "heating", 120).rule).toBe(
      "300 W +20 W = 320 W by IEC 60335-1 (5th edition), 10.1, Table 1 (from memory) (heating).",
    );
  });
});

describe("the rated input at the site's voltage", () => {
  it.each([
    ["220-240V~ 1850-2200W", 220, 1850],
    ["220-240V~ 1850-2200W", 240, 2200],
    ["220-240V~ 1850-2200W", 230, 2025],
    ["220-240V~ 1850-2200W", null, 2200],
    ["240/208V 4500/3380W", 208, 3380],
    ["240/208V 4500/3380W", 240, 4500],
    ["120V 1500W / 240V 6000W", 120, 1500],
    ["120V 1500W", 120, 1500],
    ["12V DC 2A", 120, 24],
  ] as const)("%s at %s V is %d W", (text, volts, watts) => {
    expect(ratedInput(parseRatingText(text), volts).watts).toBe(watts);
  });

  it.each([
    ["115/230V 60/50Hz 10/5A", 120, 10],
    ["115/230V 60/50Hz 10/5A", 230, 5],
    ["100-240V 1.5A-0.8A", 120, 1.5],
    ["100-240V 1.5A-0.8A", 230, 0.8],
    ["115/230V 10/5A", null, 10],
  ] as const)("%s at %s V is %d A", (text, volts, amps) => {
    expect(ratedInput(parseRatingText(text), volts).amps).toBe(amps);
  });

  it("is not made up for a plate with amps only", () => {
    expect(ratedInput(parseRatingText("120V 12.5A"), 120)).toEqual({ watts: null, amps: 12.5 });
  });
});

describe("the kind of load of a category", () => {
  it.each([
    ["space heater", "heating"],
    ["Electric Kettle", "heating"],
    ["WaterKettle", "heating"],
    ["hair dryer", "heating"],
    ["HairDryer", "heating"],
    ["toaster", "heating"],
    ["Coffeemaker", "heating"],
    ["iron", "heating"],
    ["Cookingstove", "heating"],
    ["microwave oven", "heating"],
    ["water heater", "heating"],
    ["air fryer", "heating"],
    ["dishwasher", "combined"],
    ["clothes dryer", "combined"],
    ["LaundryDrier", "combined"],
    ["Washingmachine", "combined"],
    ["VacuumCleaner", "motor"],
    ["box fan", "motor"],
    ["refrigerator", "motor"],
    ["Freezer", "motor"],
    ["dehumidifier", "motor"],
    ["humidifier", "motor"],
    ["window air conditioner", "motor"],
    ["stand mixer", "motor"],
    ["Breadcutter", "motor"],
    ["electric shaver", "small_motor"],
    ["Monitor-TFT", "electronics"],
    ["TV-LCD", "electronics"],
    ["Charger-Smartphone", "electronics"],
    ["laptop charger", "electronics"],
    ["Subwoofer", "electronics"],
    ["Printer", "electronics"],
    ["router", "electronics"],
    ["Desk_lamp", "lamp"],
    ["light string", "lamp"],
    ["environment sensor", "unknown"],
    ["", "unknown"],
  ] as const)("%s is %s", (category, kind) => {
    expect(loadKindOf(category)).toBe(kind);
  });

  it("of nothing is unknown", () => {
    expect(loadKindOf(null)).toBe("unknown");
  });
});
