/** The columns of an outlet log, in the order they are written. */
export const logColumns = ["at", "outlet", "receptacle", "tag", "watts", "amps", "volts", "power_factor", "event", "cause"] as const;
export type LogColumn = (typeof logColumns)[number];

/** Other headers that are taken for a column; compared in lower case without separators. */
const otherNames: Readonly<Record<LogColumn, readonly string[]>> = {
  at: ["time", "timestamp", "datetime", "instant", "when", "date"],
  outlet: ["outletid", "outletname", "socket"],
  receptacle: ["position", "receptacleno"],
  tag: ["tagcode", "assettag", "appliance"],
  watts: ["w", "power", "wattsw", "activepower", "powerw"],
  amps: ["a", "current", "currenta", "ampsa"],
  volts: ["v", "voltage", "voltagev", "voltsv"],
  power_factor: ["pf", "powerfactor", "cosphi"],
  event: ["eventtype", "state"],
  cause: ["reason", "tripcause"],
};

function headerKey(header: string): string {
  return header.toLowerCase().replace(/[^a-z0-9]+/g, "");
}

/** Where each column stands in a header; -1 where the log lacks it. Unknown headers are passed over. */
export function logColumnPlaces(header: readonly string[]): Record<LogColumn, number> {
  const keys = header.map(headerKey);
  const place = (column: LogColumn) => {
    const exact = keys.indexOf(headerKey(column));
    return exact >= 0 ? exact : keys.findIndex((key) => otherNames[column].includes(key));
  };
  return Object.fromEntries(logColumns.map((column) => [column, place(column)])) as Record<LogColumn, number>;
}
