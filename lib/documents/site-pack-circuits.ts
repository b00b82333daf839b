import type { SiteAsOf } from "@/lib/registry/as-of";
import type { CircuitPeak } from "@/lib/store/site-pack-queries";
import { both, byTexts, type PackNames, type PackSection, paperOnly } from "./site-pack-section";

function noteOf(shares: readonly (number | null)[]): string {
  const unread = shares.filter((share) => share === null).length;
  const [over, high] = [shares.filter((share) => (share ?? 0) > 1).length, shares.filter((share) => (share ?? 0) > 0.8).length];
  return [
    `The largest load of the day, as the mean of a minute, or of an hour where minutes are no longer kept.`,
    `${over} of ${shares.length} above their device, ${high} above 80 % of it, ${unread} without readings or device: no readings are not no load.`,
    "A load that did not trip a device is no permission to go on.",
  ].join(" ");
}

/** The largest load of each circuit on the day, against its device. */
export function circuitSection(then: SiteAsOf, names: PackNames, peaks: readonly CircuitPeak[]): PackSection {
  const byId = new Map(peaks.map((peak) => [peak.circuitId, peak]));
  const circuits = [...then.names.circuits].sort(
    byTexts(
      ({ name }) => name,
      ({ id }) => id,
    ),
  );
  const shareOf = ({ id, deviceAmps }: { readonly id: string; readonly deviceAmps: number | null }) => {
    const peak = byId.get(id);
    return peak && deviceAmps ? peak.amps / deviceAmps : null;
  };
  return {
    key: "circuit_loads",
    head: "Load of circuits",
    knownAsOf: "Readings of the day that are kept; circuits and devices as they are now.",
    note: noteOf(circuits.map(shareOf)),
    empty: "No circuit is laid out.",
    columns: [
      both("circuit", "Circuit", 80),
      both("unit", "Unit", 60),
      both("device_amps", "Device A", 40, "figure"),
      both("seen_amps", "Seen A", 40, "figure"),
      paperOnly("Seen against the device", 150, "bar"),
      both("percent_of_device", "% of device", 46, "figure"),
      both("kept_by", "Kept by", 60),
    ],
    rows: circuits.map((circuit) => {
      const [peak, share] = [byId.get(circuit.id), shareOf(circuit)];
      const amps = [circuit.deviceAmps === null ? null : String(circuit.deviceAmps), peak ? peak.amps.toFixed(1) : null];
      const shares = share === null ? [null, null] : [share.toFixed(3), String(Math.round(share * 100))];
      return [circuit.name, names.unit(circuit.unitId), ...amps, ...shares, peak?.keptBy ?? "no readings"];
    }),
  };
}
