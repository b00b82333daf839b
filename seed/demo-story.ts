import { type Actor, commandLineActor } from "@/lib/access/actor";
import { decide } from "@/lib/registry/decision";
import { undecidedCandidates } from "@/lib/registry/decision-list";
import { takeStep } from "@/lib/registry/take-step";
import type { Store } from "@/lib/store/client";
import { tellInspectionStory } from "./inspection-story";

const dayMs = 86_400_000;

/** A person of the organisation as an actor, by role. */
async function actorOf(db: Store, organisationId: string, role: "manager" | "inspector"): Promise<Actor> {
  const membership = await db.membership.findFirstOrThrow({ where: { organisationId, role }, include: { user: true } });
  return { userId: membership.userId, name: membership.user.name, organisationId, role, siteIds: "all" };
}

/** The work that the organisation has done before the visitor comes: some candidates decided, some dangers on their way out. */
export async function tellDemoStory(db: Store, organisationId: string, now: Date): Promise<void> {
  const inspector = await actorOf(db, organisationId, "inspector");
  const manager = await actorOf(db, organisationId, "manager");
  const { rows } = await undecidedCandidates(db, commandLineActor(organisationId), { grades: ["covered"], take: 12 });
  const daysAgo = (days: number) => new Date(now.getTime() - days * dayMs);
  const findings: string[] = [];
  for (const [i, candidate] of rows.entries()) {
    const verdict = i % 4 === 3 ? "not_affected" : "affected";
    const reason =
      verdict === "affected"
        ? "Plate read on site: model and serial as in the notice."
        : "Plate read on site: the maker replaced the base, letter R beside the serial.";
    const decided = await decide(db, inspector, { candidateId: candidate.id, verdict, reason, now: daysAgo(9 - Math.min(i, 8)) });
    findings.push(...decided.findingIds);
  }
  for (const [i, findingId] of findings.entries())
    await workOn(db, { manager, inspector, findingId, i, now: daysAgo(Math.max(0.1, 6 - i)) });
  await tellInspectionStory(db, { manager, inspector, now });
}

interface Work {
  readonly manager: Actor;
  readonly inspector: Actor;
  readonly findingId: string;
  readonly i: number;
  readonly now: Date;
}

/** Half of the findings have an owner, a third are out of use, one is settled with proof. */
async function workOn(db: Store, { manager, inspector, findingId, i, now }: Work): Promise<void> {
  const step = async (actor: Actor, input: Omit<Parameters<typeof takeStep>[2], "findingId" | "version" | "now">) => {
    const { version } = await db.finding.findUniqueOrThrow({ where: { id: findingId } });
    await takeStep(db, actor, { findingId, version, now, ...input });
  };
  if (i % 2 === 0) await step(manager, { step: "give_owner", text: "Yours, please.", ownerId: inspector.userId });
  if (i % 3 === 0) await step(manager, { step: "take_out_of_use", text: "Unplugged and in the locked store, tag photographed." });
  if (i === 3) {
    await step(manager, { step: "record_proof", text: "Return receipt 4471 of the maker, photographed." });
    await step(inspector, {
      step: "close",
      text: "Sent back to the maker.",
      outcome: "remedy_received",
      evidence: "Return receipt 4471; the new appliance has a tag of its own.",
    });
  }
}
