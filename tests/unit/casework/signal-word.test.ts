import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type Exposure,
  isSignalWord,
  isStronger,
  recallSeverity,
  recallSignalWord,
  type Severity,
  signalWordFor,
  signalWordMeanings,
  signalWords,
  strongerWord,
} from "@/lib/casework/signal-word";

describe("Signal words", () => {
  // ANSI Z535.6 / ISO 3864-2, from memory: DANGER will, WARNING could cause death or serious injury; CAUTION could cause minor or
  // moderate injury; NOTICE addresses practices not related to physical injury.
  test("say what the standards' definitions say", () => {
    expect(signalWords).toEqual(["DANGER", "WARNING", "CAUTION", "NOTICE"]);
    expect(signalWordMeanings.DANGER).toMatch(/will cause death or serious injury/);
    expect(signalWordMeanings.WARNING).toMatch(/could cause death or serious injury/);
    expect(signalWordMeanings.CAUTION).toMatch(/could cause minor or moderate injury/);
    expect(signalWordMeanings.NOTICE).toMatch(/not about injury/);
  });

  const table: readonly [Severity, Exposure, string][] = [
    ["serious", "in use", "DANGER"],
    ["serious", "not known", "WARNING"],
    ["serious", "out of use", "WARNING"],
    ["minor", "in use", "CAUTION"],
    ["minor", "not known", "CAUTION"],
    ["minor", "out of use", "NOTICE"],
    ["none", "in use", "NOTICE"],
    ["none", "not known", "NOTICE"],
    ["none", "out of use", "NOTICE"],
  ];
  test.each(table)("a %s hazard that is %s is %s", (severity, exposure, word) => {
    expect(signalWordFor(severity, exposure)).toBe(word);
  });

  // Hazard statements in the manner of recall notices, invented.
  const hazards: readonly [string | null, Severity][] = [
    ["The heater can overheat, posing fire and burn hazards.", "serious"],
    ["The plug's blades can come loose, posing an electric shock hazard.", "serious"],
    ["The cord can fray, posing an electrocution hazard.", "serious"],
    ["The battery can ignite.", "serious"],
    ["The carafe handle can detach, posing a burn hazard to the user.", "minor"],
    ["The glass lid can break, posing a laceration hazard.", "minor"],
    ["The lid can burst off and cause severe burns.", "serious"],
    ["The manual was printed with the wrong address.", "serious"],
    [null, "serious"],
  ];
  test.each(hazards)("the hazard %j counts as %s", (hazard, severity) => {
    expect(recallSeverity(hazard)).toBe(severity);
  });

  test("a recalled heater that can catch fire is a danger in use and a warning once it is out of use", () => {
    expect(recallSignalWord("Fire hazard", "in use")).toBe("DANGER");
    expect(recallSignalWord("Fire hazard", "out of use")).toBe("WARNING");
    expect(recallSignalWord("Laceration hazard", "in use")).toBe("CAUTION");
  });

  test("the stronger of two words does not depend on their order, and no word is stronger than itself", () => {
    const word = fc.constantFrom(...signalWords);
    fc.assert(
      fc.property(word, word, (a, b) => {
        expect(strongerWord(a, b)).toBe(strongerWord(b, a));
        expect(isStronger(a, b) && isStronger(b, a)).toBe(false);
        expect(isStronger(a, a)).toBe(false);
      }),
    );
    expect(isSignalWord("DANGER")).toBe(true);
    expect(isSignalWord("danger")).toBe(false);
  });
});
