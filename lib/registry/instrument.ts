import { z } from "zod";
import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import type { Paper } from "@/lib/casework/inspection-papers";
import type { Db, Store } from "@/lib/store/client";
import { wasMade } from "@/lib/store/form-id-queries";
import { newId } from "@/lib/store/ids";
import {
  findInstrument,
  findInstruments,
  findSameInstrument,
  insertCalibration,
  insertInstrument,
  type KnownInstrument,
  retireInstrument,
} from "@/lib/store/instrument-queries";
import { appendRecord } from "@/lib/store/record";

const day = (what: string) => z.iso.date({ error: `Give the day ${what}.` }).transform((text) => new Date(`${text}T00:00:00Z`));
const calibrationFields = {
  calibratedOn: day("on which it was calibrated"),
  validUntil: day("until which the calibration holds"),
  certificate: z.string().trim().max(120).default(""),
};
const inOrder = ({ calibratedOn, validUntil }: { calibratedOn: Date; validUntil: Date }) => calibratedOn <= validUntil;
const outOfOrder = { path: ["validUntil"], error: "The calibration cannot end before it was made." };

export const instrumentForm = z
  .object({
    formId: z.uuid().optional(),
    make: z.string().trim().min(1, "Write who made it.").max(120),
    model: z.string().trim().max(120).default(""),
    serial: z.string().trim().min(1, "Write its serial number.").max(120),
    ...calibrationFields,
  })
  .refine(inOrder, outOfOrder);

export const calibrationForm = z
  .object({ formId: z.uuid().optional(), instrumentId: z.uuid(), ...calibrationFields })
  .refine(inOrder, outOfOrder);

/** Instruments in use. Permission: `see inspections`. */
export function listInstruments(db: Db, actor: Actor): Promise<KnownInstrument[]> {
  requirePermission(actor, "see inspections");
  return findInstruments(db, actor.organisationId);
}

/** An instrument as the paper of its calibration; one never calibrated has none that holds. */
export function instrumentPaper({ make, serial, calibration }: KnownInstrument): Paper {
  return { words: `${make} ${serial}`, validUntil: calibration?.validUntil ?? new Date(0) };
}

function entry(actor: Actor, id: string, at: Date) {
  return { organisationId: actor.organisationId, at, actor: recordName(actor), subjectKind: "instrument", subjectId: id };
}

/** Enters an instrument with its calibration. Permission: `keep inspection means`. Throws `Trouble` where it is there already. */
export async function addInstrument(
  db: Store,
  actor: Actor,
  { now, formId, ...given }: z.output<typeof instrumentForm> & { readonly now: Date },
): Promise<{ id: string }> {
  requirePermission(actor, "keep inspection means");
  const { make, serial, calibratedOn, validUntil } = given;
  const { organisationId } = actor;
  const id = formId ?? newId();
  await db.$transaction(async (tx) => {
    if (await wasMade(tx, "instrument", { id: formId, organisationId })) return;
    if (await findSameInstrument(tx, { organisationId, make, serial })) {
      const sentence = `${make} ${serial} is entered already: add its calibration there.`;
      throw new Trouble("already_there", sentence, { serial: sentence });
    }
    await insertInstrument(tx, { id, organisationId, make, model: given.model || null, serial, createdAt: now });
    const certificate = given.certificate || null;
    await insertCalibration(tx, { id: newId(), instrumentId: id, calibratedOn, validUntil, certificate, createdAt: now });
    await appendRecord(tx, [{ ...entry(actor, id, now), what: "instrument entered", after: { ...given } }]);
  });
  return { id };
}

/** Adds a later calibration. Permission: `keep inspection means`. Throws `Trouble`. */
export async function addCalibration(
  db: Store,
  actor: Actor,
  { now, formId, instrumentId, ...given }: z.output<typeof calibrationForm> & { readonly now: Date },
): Promise<void> {
  requirePermission(actor, "keep inspection means");
  await db.$transaction(async (tx) => {
    const instrument = await findInstrument(tx, actor.organisationId, instrumentId);
    if (!instrument || instrument.retiredAt !== null) throw new Trouble("not_found", "This instrument is not in use any more.");
    if (await wasMade(tx, "calibration", { id: formId, organisationId: actor.organisationId })) return;
    await insertCalibration(tx, { id: formId ?? newId(), instrumentId, ...given, certificate: given.certificate || null, createdAt: now });
    await appendRecord(tx, [{ ...entry(actor, instrumentId, now), what: "instrument calibrated", after: { ...given } }]);
  });
}

/** Puts an instrument away: what it measured stays. Permission: `keep inspection means`. Throws `Trouble`. */
export async function putInstrumentAway(db: Store, actor: Actor, { id, now }: { id: string; now: Date }): Promise<void> {
  requirePermission(actor, "keep inspection means");
  await db.$transaction(async (tx) => {
    const instrument = await findInstrument(tx, actor.organisationId, id);
    if (!instrument || !(await retireInstrument(tx, id, now))) throw new Trouble("not_found", "This instrument is not in use any more.");
    const { make, serial } = instrument;
    await appendRecord(tx, [{ ...entry(actor, id, now), what: "instrument put away", before: { make, serial } }]);
  });
}
