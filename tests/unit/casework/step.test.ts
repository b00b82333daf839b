import { describe, expect, test } from "vitest";
import {
  allowedSteps,
  type CaseRole,
  type CaseState,
  caseRoles,
  caseStates,
  isStep,
  mayTake,
  type Step,
  stateAfter,
  stepNames,
} from "@/lib/casework/step";

const letters: Readonly<Record<CaseRole, string>> = { administrator: "a", manager: "m", surveyor: "s", inspector: "i" };

/** The whole table written out: who may take the step in open, out_of_use, remedy_awaited and closed. `-` is nobody. */
const expected: Readonly<Record<Step, readonly [string, string, string, string]>> = {
  take_out_of_use: ["amsi", "-", "amsi", "-"],
  put_back_in_use: ["-", "ami", "-", "-"],
  call_electrician: ["amsi", "amsi", "amsi", "-"],
  tell_occupant: ["amsi", "amsi", "amsi", "-"],
  give_entry_notice: ["amsi", "amsi", "amsi", "-"],
  no_access: ["amsi", "amsi", "amsi", "-"],
  cannot_locate: ["amsi", "amsi", "amsi", "-"],
  register_remedy: ["am", "am", "-", "-"],
  send_for_remedy: ["-", "-", "amsi", "-"],
  receive_remedy: ["-", "-", "amsi", "-"],
  retest: ["ami", "ami", "ami", "-"],
  record_proof: ["amsi", "amsi", "amsi", "-"],
  note: ["amsi", "amsi", "amsi", "amsi"],
  give_owner: ["ami", "ami", "ami", "-"],
  set_due: ["am", "am", "am", "-"],
  close: ["ami", "ami", "ami", "-"],
  reopen: ["-", "-", "-", "ami"],
};

/** Where each step leads from each state it may be taken from. */
const leadsTo: Partial<Record<Step, CaseState>> = {
  take_out_of_use: "out_of_use",
  put_back_in_use: "open",
  register_remedy: "remedy_awaited",
  close: "closed",
  reopen: "open",
};

describe("The table of steps", () => {
  test("names every step, and knows no others", () => {
    expect(Object.keys(expected).sort()).toEqual([...stepNames].sort());
    expect(isStep("close")).toBe(true);
    expect(isStep("toString")).toBe(false);
    expect(isStep("delete")).toBe(false);
  });

  for (const step of stepNames) {
    for (const [column, state] of caseStates.entries()) {
      for (const role of caseRoles) {
        const may = expected[step][column]!.includes(letters[role]);
        test(`${role} ${may ? "may" : "may not"} take "${step}" while the finding is ${state}`, () => {
          expect(mayTake(step, { state, cause: "recall", hasAppliance: true }, role)).toBe(may);
        });
      }
    }
  }

  test("leads to the state written here, from whatever state it is taken", () => {
    for (const step of stepNames) for (const state of caseStates) expect(stateAfter(step, state)).toBe(leadsTo[step] ?? state);
  });

  test("a remedy is claimed only for a recall, and an occupant is told only about an appliance", () => {
    const wiring = { state: "open", cause: "circuit_overload", hasAppliance: false } as const;
    expect(allowedSteps(wiring, "manager")).toEqual([
      "take_out_of_use",
      "call_electrician",
      "give_entry_notice",
      "no_access",
      "record_proof",
      "note",
      "give_owner",
      "set_due",
      "close",
    ]);
    expect(allowedSteps({ ...wiring, cause: "over_rating", hasAppliance: true }, "manager")).toContain("tell_occupant");
    expect(allowedSteps({ ...wiring, cause: "over_rating", hasAppliance: true }, "manager")).not.toContain("register_remedy");
  });

  test("everybody can make it safe in every state that is not safe yet", () => {
    for (const role of caseRoles)
      expect(mayTake("take_out_of_use", { state: "open", cause: "recall", hasAppliance: true }, role)).toBe(true);
  });
});
