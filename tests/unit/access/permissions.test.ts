import { describe, expect, it } from "vitest";
import { type Actor, type Role, roles } from "@/lib/access/actor";
import { mayDo, type Permission, permissions, requirePermission } from "@/lib/access/permissions";
import { Refused } from "@/lib/access/refusal";
import { siteScope } from "@/lib/access/site-scope";

/** Who may do what, written out by hand as the second opinion: administrator, manager, surveyor, inspector; x may, . may not. */
const expected: Readonly<Record<Permission, string>> = {
  "see appliances": "xxxx",
  "edit appliances": "xxx.",
  "issue tags": "xxx.",
  "see places": "xxxx",
  "edit places": "xx..",
  "bring in labels": "xxx.",
  "bring in places": "xx..",
  "see recalls": "xxxx",
  "load notices": "xx..",
  "cross-check": "xx.x",
  "decide candidates": "xx.x",
  "correct coverage": "xx.x",
  "edit maker aliases": "x...",
  "see readings": "xxxx",
  "load log": "xx..",
  "screen readings": "xx.x",
  "set site policy": "xx..",
  "manage API keys": "x...",
  "set retention": "x...",
  "see findings": "xxxx",
  "work findings": "xxxx",
  "close findings": "xx.x",
  "report incidents": "xxxx",
  "place holds": "xx..",
  "see inspections": "xxxx",
  "record inspections": "xx.x",
  "keep inspection means": "xx..",
  "edit occupants": "xx..",
  "tell occupants": "xxxx",
  "edit occupant texts": "xx..",
  "see record": "xx.x",
  "make site packs": "xx.x",
  "manage people": "x...",
  "keep own account": "xxxx",
};
const columns: readonly Role[] = ["administrator", "manager", "surveyor", "inspector"];

const actor = (role: Role, siteIds: Actor["siteIds"] = "all"): Actor => ({
  userId: "u",
  name: "N. Berg",
  organisationId: "o",
  role,
  siteIds,
});

describe("the permission table", () => {
  it("has the same rows and columns as the second opinion", () => {
    expect(Object.keys(permissions).sort()).toEqual(Object.keys(expected).sort());
    expect([...columns].sort()).toEqual([...roles].sort());
  });

  const cells = (Object.keys(expected) as Permission[]).flatMap((permission) =>
    columns.map((role, i) => ({ permission, role, may: expected[permission][i] === "x" })),
  );
  it.each(cells)("lets the $role $permission: $may", ({ permission, role, may }) => {
    expect(mayDo(actor(role), permission)).toBe(may);
    if (may) expect(() => requirePermission(actor(role), permission)).not.toThrow();
    else expect(() => requirePermission(actor(role), permission)).toThrow(Refused);
  });

  it.each(cells)("never gives the $role more at a site than in general ($permission)", ({ permission, role, may }) => {
    expect(mayDo(actor(role, ["north"]), permission, "north")).toBe(may);
    expect(mayDo(actor(role, ["north"]), permission, "south")).toBe(false);
    expect(mayDo(actor(role, []), permission, "north")).toBe(false);
    expect(mayDo(actor(role), permission, "south")).toBe(may);
  });
});

describe("a refusal", () => {
  it("tells a person of another site from a person of another role", () => {
    expect(() => requirePermission(actor("manager", ["north"]), "edit places", "south")).toThrow(/not at this site/);
    expect(() => requirePermission(actor("inspector", ["north"]), "edit places", "south")).toThrow(/Your role may not edit places/);
  });
});

describe("the site scope", () => {
  it("keeps a query inside the organisation, and inside the sites where there is a limit", () => {
    expect(siteScope(actor("manager"))).toEqual({ organisationId: "o" });
    expect(siteScope(actor("manager", ["a", "b"]))).toEqual({ organisationId: "o", siteId: { in: ["a", "b"] } });
    expect(siteScope(actor("manager", []))).toEqual({ organisationId: "o", siteId: { in: [] } });
  });
});
