import type { Actor, Role } from "@/lib/access/actor";
import type { Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";

/** An invented organisation, stored. */
export async function makeOrganisation(db: Store, name = "Linden Estates"): Promise<{ id: string; name: string }> {
  return db.organisation.create({ data: { id: newId(), name } });
}

/** A person with a role in an organisation, as an actor; stored without a password. */
export async function makeActor(
  db: Store,
  organisationId: string,
  role: Role = "manager",
  siteIds: Actor["siteIds"] = "all",
): Promise<Actor> {
  const userId = newId();
  const name = `Robin ${role}`;
  await db.user.create({ data: { id: userId, name, email: `${userId}@linden.example`, updatedAt: new Date("2026-01-01T00:00:00Z") } });
  const sites = siteIds === "all" ? [] : siteIds.map((siteId) => ({ siteId }));
  await db.membership.create({
    data: { id: newId(), organisationId, userId, role, allSites: siteIds === "all", sites: { create: sites } },
  });
  return { userId, name, organisationId, role, siteIds };
}

/** A site with one unit and two outlets on one circuit, stored: the smallest building things can be plugged into. */
export async function makeSite(db: Store, organisationId: string, name = "Alder House") {
  const siteId = newId();
  const key = name.toLowerCase();
  const site = await db.site.create({
    data: { id: siteId, organisationId, name, nameKey: key, timeZone: "America/Chicago", nominalVolts: 120 },
  });
  const unit = await db.unit.create({ data: { id: newId(), organisationId, siteId, name: "0101", nameKey: "0101" } });
  const circuit = await db.circuit.create({
    data: { id: newId(), organisationId, siteId, unitId: unit.id, name: "A-1", nameKey: "a-1", deviceAmps: 15, volts: 120, leg: "1" },
  });
  const outlets = [];
  for (const number of [1, 2]) {
    const outletName = `${name} A-1-${number}`;
    outlets.push(
      await db.outlet.create({
        data: {
          id: newId(),
          organisationId,
          siteId,
          unitId: unit.id,
          circuitId: circuit.id,
          name: outletName,
          nameKey: outletName.toLowerCase(),
          outletAmps: 15,
          receptacles: 2,
        },
      }),
    );
  }
  return { site, unit, circuit, outlets };
}
