import { describe, expect, it } from "vitest";
import { passwordProblem } from "@/lib/access/password-rule";

const person = { email: "tovarish.lund@linden.example", name: "Tova Lund" };

/** Lengths after OWASP ASVS 4.0.3, V2.1.1 (12 at least) and V2.1.2 (64 permitted, over 128 denied). */
describe("the password rule", () => {
  it.each([
    ["copper kettle", "a few words"],
    ["copperkettle", "exactly twelve characters"],
    ["ключ от подвала", "another alphabet"],
    [`${"x7!".repeat(20)}abcd`, "sixty-four characters"],
    ["the password of aunt Edda", "an obvious word among others"],
  ])("accepts %j: %s", (password) => {
    expect(passwordProblem(password, person)).toBeNull();
  });

  it.each([
    ["", /0 characters/],
    ["copperkettl", /11 characters/],
    ["ab".repeat(65), /130 characters/],
    ["aaaaaaaaaaaaaa", /repeats/],
    ["abababababab", /repeats/],
    ["abcdefghijklm", /run of the keyboard/],
    ["qwertyuiopas", /run of the keyboard/],
    ["password1234", /first that are guessed/],
    ["Platewarden2026!", /first that are guessed/],
    ["tovarish.lund", /mostly the name/],
    ["Tova-Lund-2026", /mostly the name/],
  ])("refuses %j with one sentence", (password, sentence) => {
    expect(passwordProblem(password, person)).toMatch(sentence);
  });
});
