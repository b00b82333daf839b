/** One line of the invented outlet log, before it is written out. */
export interface LogLine {
  readonly atMs: number;
  readonly outlet: string;
  readonly receptacle: number | null;
  readonly tag: string | null;
  readonly watts?: number;
  readonly volts?: number;
  readonly event?: "trip" | "restore" | "off" | "on" | "plugged" | "unplugged";
  readonly cause?: string;
}

export const logHeader = "at,outlet,receptacle,tag,watts,amps,volts,power_factor,event,cause";

/** The line as CSV; amps follow from watts and volts where both are given. */
export function logCsvLine(line: LogLine): string {
  const { watts, volts } = line;
  const amps = watts !== undefined && volts ? (watts / volts).toFixed(3) : "";
  return [
    new Date(line.atMs).toISOString(),
    line.outlet,
    line.receptacle ?? "",
    line.tag ?? "",
    watts?.toFixed(1) ?? "",
    amps,
    volts?.toFixed(1) ?? "",
    "",
    line.event ?? "",
    line.cause ?? "",
  ].join(",");
}
