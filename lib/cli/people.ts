import { parseArgs } from "node:util";
import { commandLineActor, type Role, roles } from "@/lib/access/actor";
import { addFirstAdministrator, addPerson } from "@/lib/access/add-person";
import { changePerson, endMembership, resetPassword } from "@/lib/access/change-person";
import { findPeople, type Person } from "@/lib/access/find-people";
import { accountKey } from "@/lib/access/lockout";
import type { SiteLimit } from "@/lib/access/membership-rules";
import type { Store } from "@/lib/store/client";
import { type Command, WrongUse } from "./command";
import { readPassword } from "./read-password";
import { withStore } from "./with-store";

const usage = `Use: people add --email E --name N --role ${roles.join("|")} [--site S ... or --site all] [--organisation O] [--password-file F]; people list; people set-role --email E --role R [--site S ...]; people set-password --email E [--password-file F]; people end --email E; each with [--organisation O] where there are several.`;

interface Given {
  readonly email?: string | undefined;
  readonly name?: string | undefined;
  readonly role?: string | undefined;
  readonly organisation?: string | undefined;
  readonly site?: string[] | undefined;
  readonly "password-file"?: string | undefined;
}

type Sub = (db: Store, given: Given) => Promise<string>;

const needed: Readonly<Record<string, readonly (keyof Given)[]>> = {
  add: ["email", "name", "role"],
  list: [],
  "set-role": ["email", "role"],
  "set-password": ["email"],
  end: ["email"],
};

/** `people`: adds, lists and changes the people who may sign in. */
export const peopleCommand: Command = async (args) => {
  const [name = "", ...rest] = args;
  const sub = Object.hasOwn(subs, name) ? subs[name] : undefined;
  const wants = needed[name];
  if (!sub || !wants) throw new WrongUse(`${name === "" ? "Say what to do with people." : `There is no "people ${name}".`} ${usage}`);
  const given = readGiven(rest);
  const missing = wants.find((key) => given[key] === undefined);
  if (missing) throw new WrongUse(`people ${name} needs --${missing}. ${usage}`);
  process.stdout.write(`${await withStore((db) => sub(db, given))}\n`);
  return 0;
};

function readGiven(args: string[]): Given {
  const text = { type: "string" } as const;
  try {
    return parseArgs({
      args,
      options: { email: text, name: text, role: text, organisation: text, site: { type: "string", multiple: true }, "password-file": text },
    }).values;
  } catch (error) {
    throw new WrongUse(`${error instanceof Error ? error.message.split(". ")[0] : "Wrong use"}. ${usage}`);
  }
}

function roleOf(given: Given): Role {
  const role = roles.find((known) => known === given.role);
  if (!role) throw new WrongUse(`"${given.role}" is no role; the roles are ${roles.join(", ")}.`);
  return role;
}

/** The organisation that is meant: by its name, or the only one there is; null when there is none yet. */
async function findOrganisation(db: Store, name: string | undefined): Promise<{ id: string; name: string } | null> {
  const all = await db.organisation.findMany({ select: { id: true, name: true }, orderBy: { name: "asc" } });
  if (name !== undefined) return all.find((one) => one.name.toLowerCase() === name.trim().toLowerCase()) ?? null;
  if (all.length > 1)
    throw new WrongUse(`There are several organisations: name one with --organisation: ${all.map((one) => one.name).join(", ")}.`);
  return all[0] ?? null;
}

async function getOrganisation(db: Store, given: Given): Promise<{ id: string; name: string }> {
  const found = await findOrganisation(db, given.organisation);
  if (found) return found;
  throw new WrongUse(
    given.organisation === undefined
      ? "There is no organisation yet: people add --role administrator makes the first one."
      : `There is no organisation "${given.organisation}": look at its spelling, or add an administrator to make it.`,
  );
}

async function sitesOf(db: Store, organisationId: string, names: readonly string[]): Promise<SiteLimit> {
  if (names.length === 1 && names[0]?.toLowerCase() === "all") return "all";
  const sites = await db.site.findMany({ where: { organisationId }, select: { id: true, name: true } });
  return names.map((name) => {
    const site = sites.find((one) => one.name.toLowerCase() === name.trim().toLowerCase());
    if (site) return site.id;
    throw new WrongUse(`There is no site "${name}"; the sites are: ${sites.map((one) => one.name).join(", ") || "none yet"}.`);
  });
}

async function getPerson(db: Store, organisationId: string, given: Given): Promise<Person> {
  const people = await findPeople(db, commandLineActor(organisationId));
  const person = people.find(({ email, endedAt }) => email === accountKey(given.email ?? "") && endedAt === null);
  if (!person) throw new WrongUse(`Nobody with the address ${given.email} belongs to the organisation: people list shows who does.`);
  return person;
}

const add: Sub = async (db, given) => {
  const role = roleOf(given);
  const organisation = await findOrganisation(db, given.organisation);
  const { email = "", name = "" } = given;
  if (!organisation && role !== "administrator") {
    throw new WrongUse(
      `The first person of an organisation must be its administrator${given.organisation ? `, and there is no "${given.organisation}" yet` : ""}.`,
    );
  }
  const sites = organisation ? await sitesOf(db, organisation.id, given.site ?? ["all"]) : "all";
  const password = await readPassword(given["password-file"]);
  const now = new Date();
  if (!organisation) {
    // Without a name the organisation is called like the host of the administrator's address.
    const organisationName = given.organisation?.trim() || (email.split("@")[1] ?? email);
    await addFirstAdministrator(db, organisationName, { email, name, password, now });
    return `Made the organisation "${organisationName}" and added ${name} <${email}> as its administrator.`;
  }
  const added = await addPerson(db, commandLineActor(organisation.id), { email, name, role, sites, password, now });
  const note = added.passwordSet ? "" : " The account is in use elsewhere, so its password stays what it was.";
  return `Added ${name} <${email}> as ${role} to "${organisation.name}".${note}`;
};

const list: Sub = async (db, given) => {
  const organisation = await getOrganisation(db, given);
  const people = await findPeople(db, commandLineActor(organisation.id));
  const line = (person: Person) =>
    [
      person.email,
      person.name,
      person.role,
      person.sites === "all" ? "all sites" : person.sites.map((site) => site.name).join(", "),
      stateOf(person),
    ].join("\t");
  return [`email\tname\trole\tsites\tstate`, ...people.map(line)].join("\n");
};

const stateOf = ({ endedAt }: Person) => (endedAt ? `ended ${endedAt.toISOString().slice(0, 10)}` : "active");

const setRole: Sub = async (db, given) => {
  const organisation = await getOrganisation(db, given);
  const role = roleOf(given);
  const { membershipId, name, sites: present } = await getPerson(db, organisation.id, given);
  const kept: SiteLimit = present === "all" ? "all" : present.map(({ id }) => id);
  const sites = given.site ? await sitesOf(db, organisation.id, given.site) : kept;
  await changePerson(db, commandLineActor(organisation.id), { membershipId, role, sites, now: new Date() });
  return `${name} is ${role} now, for ${sites === "all" ? "all sites" : sites.length === 1 ? "one site" : `${sites.length} sites`}.`;
};

const setPassword: Sub = async (db, given) => {
  const organisation = await getOrganisation(db, given);
  const { membershipId, name } = await getPerson(db, organisation.id, given);
  const password = await readPassword(given["password-file"]);
  await resetPassword(db, commandLineActor(organisation.id), { membershipId, password, now: new Date() });
  return `${name} has a new password; all sessions were ended.`;
};

const end: Sub = async (db, given) => {
  const organisation = await getOrganisation(db, given);
  const { membershipId, name } = await getPerson(db, organisation.id, given);
  await endMembership(db, commandLineActor(organisation.id), { membershipId, now: new Date() });
  return `${name} may not sign in any more; the history stays.`;
};

const subs: Readonly<Record<string, Sub>> = { add, list, "set-role": setRole, "set-password": setPassword, end };
