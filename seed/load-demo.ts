import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Readable } from "node:stream";
import type { Actor, Role } from "@/lib/access/actor";
import { addFirstAdministrator, addPerson } from "@/lib/access/add-person";
import { loadNotices } from "@/lib/notices/notices.run";
import { loadLabels } from "@/lib/registry/labels-import";
import { loadPlaces } from "@/lib/registry/places-import";
import type { Store } from "@/lib/store/client";
import { prepareStore } from "@/lib/store/prepare";
import { loadLog } from "@/lib/watch/log.run";
import { layOutBuildings, placesCsv } from "./buildings";
import { makeChance } from "./chance";
import { tellDemoStory } from "./demo-story";
import { tellEnergyStory } from "./energy-story";
import { furnish, labelsCsv } from "./labels";
import { outletLogCsv } from "./outlet-log";
import { recallListJson } from "./recall-list";

const organisationName = "Linden Estates";
const dayMs = 86_400_000;
const password = "copper kettle by the window";

/** The demo's people, one a role; the surveyor walks one building only. */
const people: readonly { name: string; email: string; role: Role; site?: string }[] = [
  { name: "Robin Amsel", email: "manager@linden.example", role: "manager" },
  { name: "Dara Okonjo-Lind", email: "surveyor@linden.example", role: "surveyor", site: "Kestrel Court" },
  { name: "Jonna Varga", email: "inspector@linden.example", role: "inspector" },
];

function dataFolder(): string {
  const folder = process.env["PLATEWARDEN_DATA"] ?? ".data/demo";
  mkdirSync(folder, { recursive: true });
  return folder;
}

function say(sentence: string): void {
  process.stdout.write(`${sentence}\n`);
}

async function addAdministrator(db: Store, now: Date): Promise<Actor> {
  const name = "Ada Lindqvist-Moor";
  const added = await addFirstAdministrator(db, organisationName, { email: "administrator@linden.example", name, password, now });
  return { userId: added.userId, name, organisationId: added.organisationId, role: "administrator", siteIds: "all" };
}

async function addOthers(db: Store, administrator: Actor, now: Date): Promise<void> {
  for (const { name, email, role, site } of people) {
    const found = site ? await db.site.findFirstOrThrow({ where: { organisationId: administrator.organisationId, name: site } }) : null;
    await addPerson(db, administrator, { name, email, role, sites: found ? [found.id] : "all", password, now });
  }
}

async function loadPortfolio(db: Store, actor: Actor, now: Date): Promise<void> {
  const outlets = layOutBuildings();
  const appliances = furnish(outlets, makeChance(11));
  // The log ends with the last whole day, so that the demo is current whenever it is loaded.
  const endMs = Math.floor(now.getTime() / dayMs) * dayMs;
  const surveyed = new Date(endMs - 45 * dayMs);
  const text = (content: string) => ({ source: Readable.from([Buffer.from(content)]), byteLength: Buffer.byteLength(content) });
  await loadPlaces(db, actor, { ...text(placesCsv(outlets)), fileName: "places.csv", now: surveyed });
  await loadLabels(db, actor, { ...text(labelsCsv(appliances, makeChance(12))), fileName: "labels.csv", now: surveyed });
  say(`Loaded ${appliances.length} appliances at ${outlets.length} outlets.`);
  const today = new Date(endMs).toISOString().slice(0, 10);
  await loadNotices(db, actor, {
    ...text(recallListJson(today, makeChance(13))),
    fileName: "recall-list.json",
    now: new Date(endMs - 10 * dayMs),
  });
  say("Loaded the recall list and compared it.");
  await loadLogs(db, actor, [...outletLogCsv(appliances, endMs, makeChance(14))], endMs);
  say("Loaded thirty days of outlet log and screened it.");
  await tellEnergyStory(db, actor, endMs);
}

/** The log arrives as two files, the second after the last four days, so that what they show has waited for different times. */
async function loadLogs(db: Store, actor: Actor, [header = "", ...days]: readonly string[], endMs: number): Promise<void> {
  const recentDays = 4;
  const load = (part: readonly string[], fileName: string, now: Date) =>
    loadLog(db, actor, { source: Readable.from([header, ...part]), fileName, now });
  await load(days.slice(0, -recentDays), "outlet-log-1.csv", new Date(endMs - recentDays * dayMs));
  await load(days.slice(-recentDays), "outlet-log-2.csv", new Date(endMs));
}

function writeSignIns(folder: string): void {
  const all = [{ email: "administrator@linden.example", role: "administrator" as Role }, ...people];
  const lines = all.map(({ email, role }) => `  ${role.padEnd(14)} ${email}`);
  const text = `Sign in as one of these, password "${password}":\n${lines.join("\n")}\n`;
  writeFileSync(join(folder, "demo-sign-ins.txt"), text);
}

async function main(): Promise<void> {
  const folder = dataFolder();
  const db = await prepareStore();
  try {
    const there = await db.organisation.findFirst({ where: { name: organisationName } });
    if (there) return say("The demo portfolio is loaded already.");
    const now = new Date();
    const administrator = await addAdministrator(db, new Date(now.getTime() - 60 * dayMs));
    await loadPortfolio(db, administrator, now);
    await addOthers(db, administrator, now);
    await tellDemoStory(db, administrator.organisationId, now);
    writeSignIns(folder);
  } finally {
    await db.$disconnect();
  }
}

await main();
