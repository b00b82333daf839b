import type { Chance } from "./chance";
import type { SeedAppliance } from "./labels";
import type { LogLine } from "./log-line";
import { type Day, oneRun, reading } from "./running";

const minute = 60_000;
const hour = 60 * minute;

/** The faults of the demo, each told in one function: what happened, where and when. `day(n)` is midnight n days before the end. */
export interface FaultScene {
  readonly day: (daysAgo: number) => number;
  readonly metered: readonly SeedAppliance[];
  readonly chance: Chance;
}

const dayOf = (appliance: SeedAppliance, startMs: number): Day => ({ appliance, startMs, share: 1, nominalVolts: 120 });

function find(scene: FaultScene, category: RegExp, nth = 0): SeedAppliance {
  const found = scene.metered.filter((appliance) => category.test(appliance.family.category))[nth];
  if (!found) throw new Error(`The demo meters no ${category.source} number ${nth + 1}.`);
  return found;
}

/** Gives the place in the night, when nothing ordinary of the same receptacle runs. */
const night = (scene: FaultScene, daysAgo: number, hours: number) => scene.day(daysAgo) + hours * hour;

/** A heater takes a sixth more than its plate allows for most of an hour, then its breaker trips. */
function heaterAboveRating(scene: FaultScene): LogLine[] {
  const heater = find(scene, /heater/);
  const start = night(scene, 1, 11);
  const lines = oneRun(dayOf(heater, start), 54 * minute, heater.family.watts * 1.17, scene.chance);
  const { outlet } = heater.place;
  return [
    ...lines,
    { atMs: start + 54 * minute + 500, outlet, receptacle: heater.receptacle, tag: heater.tag, event: "trip", cause: "overload" },
  ];
}

/** A toaster with a shorted element: a third above its rating, three mornings. */
function toasterFarAbove(scene: FaultScene): LogLine[] {
  const toaster = find(scene, /toaster/);
  return [2, 3, 5].flatMap((daysAgo) =>
    oneRun(dayOf(toaster, night(scene, daysAgo, 4.5)), 3 * minute, toaster.family.watts * 1.34, scene.chance),
  );
}

/** A dehumidifier trips its ground-fault device again and again, and nothing else does. */
function repeatedTrips(scene: FaultScene): LogLine[] {
  const culprit = find(scene, /dehumidifier/);
  const { outlet } = culprit.place;
  const at = { outlet, receptacle: culprit.receptacle, tag: culprit.tag };
  return [3, 6, 9, 13].flatMap((daysAgo, i): LogLine[] => {
    const tripMs = night(scene, daysAgo, 8 + i);
    const before = oneRun(dayOf(culprit, tripMs - 10 * minute), 9 * minute, culprit.family.watts * 0.95, scene.chance);
    return [
      ...before,
      { ...at, atMs: tripMs, event: "trip", cause: "ground_fault" },
      { ...at, atMs: tripMs + 20 * minute, event: "restore" },
    ];
  });
}

/** Two strong appliances on one wall outlet: each within its rating, together above the outlet's. */
function twoOnOneOutlet(scene: FaultScene): LogLine[] {
  const first = find(scene, /microwave|kettle/);
  const second: SeedAppliance = { ...first, receptacle: first.receptacle === 1 ? 2 : 1, tag: find(scene, /coffee|espresso/).tag };
  const start = night(scene, 4, 3);
  const run = (appliance: SeedAppliance, watts: number) => oneRun(dayOf(appliance, start), 25 * minute, watts, scene.chance);
  return [...run(first, first.family.watts * 0.98), ...run(second, 1020)];
}

/** The neutral of one building's panel works loose: one leg rises, the other falls, their sum stays. */
function looseNeutral(scene: FaultScene): LogLine[] {
  const site = scene.metered[0]?.place.site;
  const there = scene.metered.filter((appliance) => appliance.place.site === site).slice(0, 10);
  const start = night(scene, 2, 2);
  return there.flatMap((appliance) =>
    Array.from({ length: 40 }, (_, i) => {
      const sway = 17 + Math.sin(i / 4) * 2;
      const nominalVolts = appliance.place.leg === "1" ? 120 + sway : 120 - sway;
      return reading({ ...dayOf(appliance, 0), nominalVolts }, start + i * 15_000, 2, scene.chance);
    }),
  );
}

/** The supply of one building fails for four minutes: everything stops at once, and nothing of it is an appliance's fault. */
function supplyFails(scene: FaultScene): LogLine[] {
  const site = scene.metered[scene.metered.length - 1]?.place.site;
  const at = night(scene, 8, 13);
  return scene.metered
    .filter((appliance) => appliance.place.site === site)
    .flatMap(({ place, receptacle, tag }): LogLine[] => [
      { atMs: at - 1000, outlet: place.outlet, receptacle, tag, watts: 0, volts: 61 },
      { atMs: at, outlet: place.outlet, receptacle, tag, event: "trip", cause: "supply" },
      { atMs: at + 4 * minute, outlet: place.outlet, receptacle, tag, event: "restore", cause: "supply" },
    ]);
}

/** An evening of low voltage at one building. */
function lowVoltage(scene: FaultScene): LogLine[] {
  const site = scene.metered[Math.floor(scene.metered.length / 2)]?.place.site;
  const there = scene.metered.filter((appliance) => appliance.place.site === site).slice(0, 6);
  const start = night(scene, 6, 2.5);
  return there.flatMap((appliance) =>
    Array.from({ length: 24 }, (_, i) => reading({ ...dayOf(appliance, 0), nominalVolts: 101.5 }, start + i * 15_000, 2, scene.chance)),
  );
}

/** A lamp of 90 W in a fixture marked MAX 60 W. */
function lampTooStrong(scene: FaultScene): LogLine[] {
  const lamp = find(scene, /desk lamp/);
  return oneRun(dayOf(lamp, night(scene, 3, 12)), 2 * hour, (lamp.family.maxLampWatts ?? 60) * 1.5, scene.chance);
}

/** A vacuum cleaner is carried to another unit and used there: the registry must follow it. */
function carriedElsewhere(scene: FaultScene): LogLine[] {
  const moved = find(scene, /fan|hair dryer|sound bar/);
  const target = scene.metered.find((appliance) => appliance.place.site === moved.place.site && appliance.place.unit !== moved.place.unit);
  if (!target) throw new Error("The demo needs a second metered unit in the building.");
  const there: SeedAppliance = { ...moved, place: target.place, receptacle: target.receptacle === 1 ? 2 : 1 };
  return [0, 1].flatMap((daysAgo) => oneRun(dayOf(there, night(scene, daysAgo, 10)), 15 * minute, moved.family.watts * 0.9, scene.chance));
}

/** Rows a real log has and a reader must account for: an outlet nobody knows, a time that is none. */
function brokenRows(scene: FaultScene): LogLine[] {
  return [{ atMs: scene.day(5) + 9 * hour, outlet: "XX-9999-Z9", receptacle: 1, tag: null, watts: 40, volts: 120 }];
}

/** Everything that goes wrong in the demo's thirty days. */
export function faultLines(scene: FaultScene): LogLine[] {
  const scenes = [
    heaterAboveRating,
    toasterFarAbove,
    repeatedTrips,
    twoOnOneOutlet,
    looseNeutral,
    supplyFails,
    lowVoltage,
    lampTooStrong,
    carriedElsewhere,
    brokenRows,
  ];
  return scenes.flatMap((tell) => tell(scene));
}
