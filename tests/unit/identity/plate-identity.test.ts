import { describe, expect, it } from "vitest";
import { readPlateIdentity } from "@/lib/identity/plate-identity";

const nothing = { brand: null, model: null, serial: null, dateCode: null };

describe("a plate's text", () => {
  it.each([
    ["Velnost | MODEL QN100 | S/N QN-100-23 | 24V~ 60Hz 40W", { brand: "Velnost", model: "QN100", serial: "QN-100-23" }],
    ["Velnost | MODEL RH99 | BATTERY DATE CODE 2341 | 25V~ 60Hz 300W", { brand: "Velnost", model: "RH99", dateCode: "2341" }],
    ["Velnost Inc. | MODEL 4155 W | 120V~ 60Hz 1000W", { brand: "Velnost Inc.", model: "4155 W" }],
    ["MODEL 4155 W 120V~ 60Hz 1000W S/N 12-9", { model: "4155 W", serial: "12-9" }],
    [
      "Velnost\nModel No.: AB-12\nSerial No. 00317\nDate Code: 2416\nAC 220-240V 50/60Hz 2.2kW 10A",
      { brand: "Velnost", model: "AB-12", serial: "00317", dateCode: "2416" },
    ],
    ["Velnost\r\nMOD. NO. KX-7\r\nSER. NO. 8", { brand: "Velnost", model: "KX-7", serial: "8" }],
    ["M/N: RH-100W; SN: 5", { model: "RH-100W", serial: "5" }],
    ["Tarnfeld | TYPE HX-200 | 230V", { brand: "Tarnfeld", model: "HX-200" }],
    ["MAX 60W TYPE A", {}],
    ["120V~ 60Hz 1500W", {}],
    ["1/2 HP 115V 9.8A", {}],
    ["CAUTION | hot surface", {}],
    ["", {}],
  ])("%j", (text, expected) => {
    expect(readPlateIdentity(text)).toEqual({ ...nothing, ...expected });
  });

  it("survives a text that is huge and senseless", () => {
    const started = performance.now();
    readPlateIdentity("MODEL ".repeat(20_000));
    expect(performance.now() - started).toBeLessThan(1500);
  });
});
