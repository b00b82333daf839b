import { parseArgs } from "node:util";
import { isTimeZone } from "@/lib/watch/zone-time";
import { type Command, WrongUse } from "./command";

const usage =
  "Use: screen --labels FILE --places FILE --log FILE [--zone ZONE] [--out FILE], or no files at all, [--organisation NAME], to screen the registry.";

interface ScreenArguments {
  readonly labels?: string | undefined;
  readonly places?: string | undefined;
  readonly log?: string | undefined;
  readonly zone?: string | undefined;
  readonly organisation?: string | undefined;
  readonly out?: string | undefined;
}

function readArguments(args: readonly string[]): ScreenArguments {
  try {
    const text = { type: "string" } as const;
    return parseArgs({ args: [...args], options: { labels: text, places: text, log: text, zone: text, organisation: text, out: text } })
      .values;
  } catch (error) {
    throw new WrongUse(`${error instanceof Error ? error.message.split(". ")[0] : "Wrong use"}. ${usage}`);
  }
}

/** `screen`: an outlet log against labels and places from files, or the registry's own readings against the registry. */
export const screenCommand: Command = async (args) => {
  const { labels, places, log, zone, organisation, out } = readArguments(args);
  if (zone !== undefined && !isTimeZone(zone)) {
    throw new WrongUse(`"${zone}" is no IANA time zone: write it like America/Chicago.`);
  }
  if (labels !== undefined && places !== undefined && log !== undefined) {
    if ([labels, places, log].filter((path) => path === "-").length > 1) throw new WrongUse("Only one of the files can be standard input.");
    const { screenFiles } = await import("./screen-files");
    return screenFiles({ labels, places, log, zone: zone ?? null, out: out ?? "-" });
  }
  if (labels !== undefined || places !== undefined || log !== undefined) {
    throw new WrongUse(`screen needs the labels, the places and the log. ${usage}`);
  }
  const { screenKeptReadings } = await import("./screen-registry");
  return screenKeptReadings(organisation ?? null, out ?? "-");
};
