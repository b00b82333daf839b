import type { Db } from "./client";

interface Made {
  readonly id: string;
  readonly organisationId: string;
}

const counts = {
  appliance: (tx: Db, where: Made) => tx.appliance.count({ where }),
  incident: (tx: Db, where: Made) => tx.incident.count({ where }),
  tariff: (tx: Db, where: Made) => tx.energyTariff.count({ where }),
  limit: (tx: Db, where: Made) => tx.energyLimit.count({ where }),
  event: (tx: Db, where: Made) => tx.demandEvent.count({ where }),
  key: (tx: Db, where: Made) => tx.apiKey.count({ where }),
  link: (tx: Db, where: Made) => tx.secretLink.count({ where }),
  alias: (tx: Db, where: Made) => tx.makerAlias.count({ where }),
  correction: (tx: Db, where: Made) => tx.coverageCorrection.count({ where }),
  competence: (tx: Db, where: Made) => tx.competence.count({ where }),
  instrument: (tx: Db, where: Made) => tx.instrument.count({ where }),
  calibration: (tx: Db, { id, organisationId }: Made) => tx.calibration.count({ where: { id, instrument: { organisationId } } }),
};

/** What a form can make. */
export type MadeKind = keyof typeof counts;

/** Whether a form with this id made its thing already. The thing has the form's id, so that a form that is sent twice makes one. */
export async function wasMade(
  tx: Db,
  kind: MadeKind,
  { id, organisationId }: { readonly id: string | undefined; readonly organisationId: string },
): Promise<boolean> {
  return id !== undefined && (await counts[kind](tx, { id, organisationId })) > 0;
}
