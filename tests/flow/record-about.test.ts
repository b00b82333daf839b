import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { recordAbout } from "@/lib/access/record-about";
import { saveUnitPlace } from "@/lib/registry/place";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const now = new Date("2026-03-02T10:00:00Z");

eachDatabase("The timeline of a thing", (open) => {
  let fresh: FreshDatabase;
  let actor: Actor;
  beforeEach(async () => {
    fresh = await open();
    actor = await makeActor(fresh.db, (await makeOrganisation(fresh.db)).id);
  });
  afterEach(() => fresh.close());

  test("holds what was done to it and its parts, the latest first, with who did it; it is not for everybody", async () => {
    const { db } = fresh;
    const { site, unit } = await makeSite(db, actor.organisationId);
    for (const name of ["0102", "0103"]) await saveUnitPlace(db, actor, { id: unit.id, siteId: site.id, name, now });
    const { id: second } = await saveUnitPlace(db, actor, { id: null, siteId: site.id, name: "0201", now });
    const one = await recordAbout(db, actor, [unit.id]);
    expect(one).toMatchObject({ total: 2, lines: [{ what: "unit changed", who: actor.name }, { what: "unit changed" }] });
    expect(one!.lines[0]!.previousHash).toBe(one!.lines[1]!.hash);
    expect((await recordAbout(db, actor, [unit.id, second]))?.lines.map(({ what }) => what)).toEqual([
      ...["unit added", "unit changed", "unit changed"],
    ]);
    expect(await recordAbout(db, actor, [])).toEqual({ lines: [], total: 0 });
    expect(await recordAbout(db, await makeActor(db, actor.organisationId, "surveyor"), [unit.id])).toBeNull();
    const elsewhere = await makeActor(db, (await makeOrganisation(db, "Other")).id);
    expect(await recordAbout(db, elsewhere, [unit.id])).toEqual({ lines: [], total: 0 });
  });
});
