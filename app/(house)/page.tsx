import type { Metadata } from "next";
import Link from "next/link";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { ButtonLink } from "@/app/_ui/button";
import { CallElectrician, StopUse } from "@/app/_ui/cautions";
import { EmptyState } from "@/app/_ui/empty-state";
import { PageHead } from "@/app/_ui/page-head";
import { SideSection } from "@/app/_ui/side-section";
import { waiting } from "@/lib/casework/due-words";
import { type TodayGroup, todayGroups } from "@/lib/casework/today-group";
import { mySites } from "@/lib/registry/finding-list";
import { getToday, type Today } from "@/lib/registry/today";
import { CandidateTaskRow } from "./_today/candidate-task";
import { FindingTaskRow } from "./_today/finding-task";
import styles from "./_today/today.module.css";

export const metadata: Metadata = { title: "Today" };

export default async function TodayPage() {
  const { db, actor, now } = await requirePage("see findings");
  const [today, sites] = await Promise.all([forPage(getToday(db, actor)), mySites(db, actor)]);
  const timeZone = sites.find((site) => site.timeZone !== null)?.timeZone ?? "UTC";
  return (
    <>
      <Head today={today} now={now} timeZone={timeZone} />
      {today.groups.length === 0 && <Nothing today={today} />}
      {today.groups.map((group) => (
        <Group key={group.name} group={group} now={now} />
      ))}
    </>
  );
}

function instant(at: Date | null, timeZone: string): string {
  if (at === null) return "none yet";
  const words = { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit", timeZone } as const;
  return new Intl.DateTimeFormat("en-GB", words).format(at);
}

function Head({ today, now, timeZone }: { today: Today; now: Date; timeZone: string }) {
  const { count, oldest } = today.dangers;
  const day = new Intl.DateTimeFormat("en-GB", { weekday: "long", day: "numeric", month: "long", timeZone }).format(now);
  const age = oldest === null ? null : waiting(oldest, now);
  return (
    <PageHead
      title="Today"
      lead={
        <>
          {day}.{" "}
          <b>
            {count === 0
              ? "No dangerous appliance is known to be in use"
              : `${figures(count)} dangerous ${count === 1 ? "appliance is" : "appliances are"} still in use`}
          </b>
          {age ? `; the oldest has waited ${age.count} ${age.unit}.` : `; ${figures(today.open)} findings are not closed.`}
        </>
      }
      cells={[
        { label: "Registry", value: `${figures(today.appliances)} appliances` },
        { label: "Recall list", value: today.noticesLoadedAt === null ? "none loaded" : `of ${instant(today.noticesLoadedAt, timeZone)}` },
        { label: "Readings", value: today.readingsUntil === null ? "none loaded" : `up to ${instant(today.readingsUntil, timeZone)}` },
        { label: "Order", value: "oldest danger first" },
      ]}
    />
  );
}

function Nothing({ today }: { today: Today }) {
  const isNew = today.appliances === 0;
  return (
    <EmptyState
      head={isNew ? "Nothing is tagged yet" : "Nothing waits for you today"}
      action={<ButtonLink href={isNew ? "/bring-in" : "/findings?state=all"}>{isNew ? "Bring in labels" : "See all findings"}</ButtonLink>}
    >
      {isNew
        ? "Bring in a labels file, a recall list and an outlet log; what has to be done then stands here."
        : "No finding is open and no candidate waits. That nothing was found does not mean that nothing is recalled or at fault."}
    </EmptyState>
  );
}

const moreHref: Readonly<Record<TodayGroup, string>> = {
  take_out_of_use: "/findings?state=open",
  call_electrician: "/findings?state=open",
  read_label: "/recalls?grade=check_label#candidates",
  decide: "/recalls#candidates",
  bring_proof: "/findings?state=out_of_use",
};

function countWords(name: TodayGroup, total: number): string {
  const many = total === 1 ? "" : "s";
  const words: Readonly<Record<TodayGroup, string>> = {
    take_out_of_use: `appliance${many}, still plugged in as far as is known`,
    call_electrician: `fault${many} in the wiring or the supply`,
    read_label: `appliance${many}, one question a model or plate`,
    decide: `appliance${many} or finding${many} to decide on`,
    bring_proof: `action${many} without an end`,
  };
  return `${figures(total)} ${words[name]}`;
}

function Group({ group, now }: { group: Today["groups"][number]; now: Date }) {
  const { name, tasks, total, works } = group;
  const { head, note } = todayGroups[name];
  const hidden = works - tasks.length;
  return (
    <SideSection head={head} count={countWords(name, total)} note={note} id={name}>
      {name === "take_out_of_use" && (
        <div className={styles.banner}>
          <StopUse />
        </div>
      )}
      {name === "call_electrician" && (
        <div className={styles.banner}>
          <CallElectrician />
        </div>
      )}
      {tasks.map((task) =>
        task.kind === "finding" ? (
          <FindingTaskRow key={task.shown.finding.id} task={task} now={now} />
        ) : (
          <CandidateTaskRow key={task.candidate.id} task={task} now={now} />
        ),
      )}
      {hidden > 0 && (
        <p className={styles.more}>
          <Link href={moreHref[name]}>{figures(hidden)} more</Link>
        </p>
      )}
    </SideSection>
  );
}
