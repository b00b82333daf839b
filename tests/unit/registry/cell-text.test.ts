import { describe, expect, it } from "vitest";
import { saysUnknown, withoutFieldName } from "@/lib/registry/cell-text";

describe("a cell", () => {
  it.each(["n/a", "Unknown", "??", "-", "illegible", "not readable", "cannot read", "can't be read", "worn off"])(
    "that says %s is empty",
    (text) => {
      expect(saysUnknown(text)).toBe(true);
    },
  );

  it.each(["N-200", "Nona", "UNK-12", "Wornell", "Readable"])("that says %s is not", (text) => {
    expect(saysUnknown(text)).toBe(false);
  });

  it.each([
    ["serial", "S/N: 27S9981", "27S9981"],
    ["serial", "Serial No. 1711000", "1711000"],
    ["serial", "SN 27S9981", "27S9981"],
    ["serial", "SN27S9981", "SN27S9981"],
    ["model", "Model VH-1200", "VH-1200"],
    ["model", "MOD. NO. VH-1200", "VH-1200"],
    ["model", "Model T", "Model T"],
    ["model", "MODA-12", "MODA-12"],
  ] as const)("of %s numbers with %s holds %s", (field, text, value) => {
    expect(withoutFieldName(text, field).value).toBe(value);
  });
});
