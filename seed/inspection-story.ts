import type { Actor } from "@/lib/access/actor";
import { type CheckName, checkNames } from "@/lib/casework/inspection-checklist";
import { recordInspection } from "@/lib/registry/inspection";
import { addCompetence, competenceForm } from "@/lib/registry/inspection-competence";
import { type RoundStop, stopsOfSite } from "@/lib/registry/inspection-due-list";
import { inspectionForm } from "@/lib/registry/inspection-form";
import { addInstrument, instrumentForm } from "@/lib/registry/instrument";
import type { Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";

const dayMs = 86_400_000;
const minuteMs = 60_000;
const inspected = 14;

interface People {
  readonly manager: Actor;
  readonly inspector: Actor;
  readonly now: Date;
}

/** A round that was begun two days ago: the first stops of a building are inspected, one could not be measured, one did not pass. */
export async function tellInspectionStory(db: Store, { manager, inspector, now }: People): Promise<void> {
  const meter = await enterMeans(db, { manager, inspector, now: new Date(now.getTime() - 3 * dayMs) });
  const begun = new Date(now.getTime() - 2 * dayMs);
  const site = await db.site.findFirstOrThrow({ where: { organisationId: inspector.organisationId }, orderBy: { name: "asc" } });
  const { stops } = await stopsOfSite(db, inspector, { siteId: site.id, now: begun });
  const walked = stops.filter(({ outOfUse }) => !outOfUse).slice(0, inspected);
  for (const [i, stop] of walked.entries()) {
    const at = new Date(begun.getTime() + i * 9 * minuteMs);
    await recordInspection(db, inspector, { form: inspectionForm.parse(formOf(stop, i, { meter, at, name: inspector.name })), now: at });
  }
}

/** One valid and one expired calibration, a course and a licence. */
async function enterMeans(db: Store, { manager, inspector, now }: People): Promise<string> {
  const day = (days: number) => new Date(now.getTime() + days * dayMs).toISOString().slice(0, 10);
  const instrument = async (given: object) => (await addInstrument(db, manager, { ...instrumentForm.parse(given), now })).id;
  const meter = await instrument({
    make: "Ohmar",
    model: "T2",
    serial: "OM-20731",
    calibratedOn: day(-120),
    validUntil: day(245),
    certificate: "C-1187",
  });
  await instrument({
    make: "Brenniger",
    model: "IR 5",
    serial: "B5-0094",
    calibratedOn: day(-400),
    validUntil: day(-35),
    certificate: "C-0912",
  });
  const paper = async (given: object) =>
    addCompetence(db, manager, { ...competenceForm.parse({ userId: inspector.userId, ...given }), now });
  await paper({ what: "Course in inspection and testing", issuedBy: "Linden trade school", validUntil: day(300) });
  await paper({ what: "Electrician's licence", issuedBy: "State board", validUntil: "" });
  return meter;
}

interface Visit {
  readonly meter: string;
  readonly at: Date;
  readonly name: string;
}

const looseSwitch = "Does not return to off by itself";

function formOf(stop: RoundStop, i: number, { meter, at, name }: Visit) {
  const isLimited = i === 5;
  const verdictOf = (item: CheckName) => (i === 9 && item === "switches" ? "fail" : "pass");
  const checklist = checkNames.map((item) => ({
    name: item,
    verdict: verdictOf(item),
    note: verdictOf(item) === "fail" ? looseSwitch : "",
  }));
  return {
    formId: newId(),
    applianceId: stop.id,
    at: at.toISOString(),
    environment: "calm",
    protectionClass: "II",
    cordMetres: 1.5 + (i % 3) * 0.5,
    checklist,
    measured: { insulationMegohms: isLimited ? null : 20 + i * 3, polarity: "pass", functional: isLimited ? null : "pass" },
    instrumentIds: isLimited ? [] : [meter],
    limitedWhy: isLimited ? "Behind a built-in cupboard: seen, not measured." : "",
    takeOutOfUse: false,
    signedName: name,
  };
}
