import { describe, expect, it } from "vitest";
import { appliance, kinds, minutes, rows, screen } from "./log-builder";

/** What a steady draw at a steady voltage is called, over five minutes. */
const judged = (plate: string, category: string, watts: number, volts: number) =>
  kinds(
    screen(
      rows(0, 5 * minutes, () => ({ watts, volts })),
      undefined,
      [appliance(plate, category)],
    ),
  ).toSorted();

// P ~ V^2 for a resistance (physics), V^1.55 for a filament (from memory); motors and what is regulated are judged as measured.
describe("whether the line or the load is blamed", () => {
  it.each([
    ["a 1500 W heater drawing 1760.4 W at 130 V is 1500 W at 120 V: the line", "120V 1500W", "space heater", 1760.4, 130, ["high_voltage"]],
    [
      "the same with 1900 W is 1619 W at 120 V: the line and the load",
      "120V 1500W",
      "space heater",
      1900,
      130,
      ["high_voltage", "over_rating O1 T1"],
    ],
    ["1500 W at 108 V is 1852 W at 120 V: the load", "120V 1500W", "space heater", 1500, 108, ["over_rating O1 T1"]],
    ["a plate without volts counts at the site's nominal: 1653 W at 126 V", "1500W", "space heater", 1653, 126, []],
    ["a 60 W lamp at 127 V is 60 W at 120 V by its filament", "120V MAX 60W E26", "lamp", 65.5, 127, []],
    ["a 60 W lamp drawing as much at 120 V is too strong", "120V MAX 60W E26", "lamp", 65.5, 120, ["lamp_too_strong O1 T1"]],
    ["an LED lamp is regulated, so judged as measured", "120V MAX 60W E26", "LED lamp", 65.5, 127, ["lamp_too_strong O1 T1"]],
    ["a microwave oven is regulated: 1550 W at 110 V", "120V 60Hz 1550W", "microwave oven", 1550, 110, []],
    ["and 1650 W at 126 V is too much", "120V 60Hz 1550W", "microwave oven", 1650, 126, ["over_rating O1 T1"]],
    [
      "a PTC heater keeps its power (IEC 60335-1, 5.13, as quoted, has a rule of its own for it): 1500 W at 108 V",
      "120V 1500W",
      "PTC heater",
      1500,
      108,
      [],
    ],
    ["and 1600 W at 126 V is too much", "120V 1500W", "PTC heater", 1600, 126, ["over_rating O1 T1"]],
    ["a motor is judged as measured: 130 W of 100 W at 126 V", "120V 100W", "fan", 130, 126, ["over_rating O1 T1"]],
    ["a motor that draws its rating at 108 V is sound", "120V 100W", "fan", 119, 108, []],
  ] as const)("%s", (_, plate, category, watts, volts, expected) => {
    expect(judged(plate, category, watts, volts)).toEqual(expected);
  });
});
