import { z } from "zod";
import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import type { Db, Store } from "@/lib/store/client";
import { type EnergyScope, sumByHour } from "@/lib/store/energy-queries";
import { findCircuit, findOutlet } from "@/lib/store/place-queries";
import { appendRecord } from "@/lib/store/record";
import { type EnergyMeter, putMeter } from "@/lib/store/tariff-queries";

/** What the meter form sends: an outlet of the log that is a meter, and the circuit it measures; empty for the whole site. */
export const meterForm = z.object({
  siteId: z.string().max(64),
  outletId: z.string().min(1, "Choose the outlet that is a meter.").max(64),
  circuitId: z
    .string()
    .max(64)
    .nullish()
    .transform((id) => id || null),
});

/**
 * Says that an outlet of the log is in truth a meter of a circuit or of the site: it is left out of the sums and compared with them.
 * It must lie on no circuit, so that nothing is counted twice. Permission: `set site policy`.
 */
export async function setMeter(db: Store, actor: Actor, input: z.output<typeof meterForm> & { readonly now: Date }): Promise<void> {
  requirePermission(actor, "set site policy", input.siteId);
  const { organisationId } = actor;
  const { siteId, outletId, circuitId, now } = input;
  await db.$transaction(async (tx) => {
    const outlet = await findOutlet(tx, organisationId, outletId);
    if (outlet?.siteId !== siteId) throw new Trouble("not_found", "This outlet is not at the site any more.");
    if (circuitId !== null && (await findCircuit(tx, organisationId, circuitId))?.siteId !== siteId)
      throw new Trouble("not_found", "This circuit is not at the site any more.");
    if (outlet.circuitId !== null) {
      const sentence = `${outlet.name} lies on a circuit itself: take it off the circuit first, else its readings count as a load there.`;
      throw new Trouble("not_valid", sentence, { outletId: sentence });
    }
    await putMeter(tx, { outletId, organisationId, siteId, circuitId, createdAt: now });
    const entry = { organisationId, at: now, actor: recordName(actor), what: "meter set", subjectKind: "outlet", subjectId: outletId };
    await appendRecord(tx, [{ ...entry, after: { circuitId } }]);
  });
}

/** A meter against the outlets behind it, over the hours that it measured. */
export interface MeterLine {
  readonly outletId: string;
  readonly circuitId: string | null;
  readonly metered: bigint;
  readonly outlets: bigint;
  /** Losses, hard-wired loads and outlets without readings; negative when the outlets saw more than their meter. */
  readonly unmetered: bigint;
}

/** Reconciles the meters that concern a scope: its own circuit's, or all of a site's. Units and appliances have none. */
export async function meterLines(
  db: Db,
  scope: EnergyScope,
  meters: readonly EnergyMeter[],
  { fromMs, toMs }: { readonly fromMs: number; readonly toMs: number },
): Promise<MeterLine[]> {
  if (scope.unitId !== undefined || scope.applianceId !== undefined || scope.outletId !== undefined) return [];
  const mine = meters.filter(({ circuitId }) => scope.circuitId === undefined || circuitId === scope.circuitId);
  const home = { organisationId: scope.organisationId, siteIds: scope.siteIds, siteId: scope.siteId };
  const lines: MeterLine[] = [];
  for (const { outletId, circuitId } of mine) {
    const own = await sumByHour(db, { ...home, outletId }, fromMs, toMs);
    if (own.length === 0) continue;
    const hours = new Set(own.map(({ atMs }) => atMs));
    const behind = await sumByHour(db, { ...home, circuitId: circuitId ?? undefined, without: scope.without }, fromMs, toMs);
    const metered = own.reduce((sum, hour) => sum + hour.microjoules, 0n);
    const outlets = behind.filter(({ atMs }) => hours.has(atMs)).reduce((sum, hour) => sum + hour.microjoules, 0n);
    lines.push({ outletId, circuitId, metered, outlets, unmetered: metered - outlets });
  }
  return lines;
}
