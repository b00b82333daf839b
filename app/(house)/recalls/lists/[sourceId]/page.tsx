import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { DefinitionList } from "@/app/_ui/definition-list";
import { PageHead } from "@/app/_ui/page-head";
import { Pager } from "@/app/_ui/pager";
import { Seen } from "@/app/_ui/seen";
import { PlainSection, SideSection } from "@/app/_ui/side-section";
import { RecordTimeline } from "@/app/(house)/_record/record-timeline";
import { KeepFresh } from "@/app/(house)/bring-in/keep-fresh";
import { mayDo } from "@/lib/access/permissions";
import { sourceSeen } from "@/lib/registry/notice-source";
import { checksAPage, listChecks, type ShownSource, viewSource } from "@/lib/registry/notice-source-view";
import { CheckTable } from "../_parts/check-table";
import { HeldList } from "../_parts/held-list";
import styles from "../_parts/lists.module.css";
import { SourceFields } from "../_parts/source-fields";
import { intervalWords, stateWords, timeWords, versionWords } from "../_parts/source-words";
import { change, checkNow, pause, remove, resume } from "../actions";

export const metadata: Metadata = { title: "List" };

export default async function ListPage(props: { params: Promise<{ sourceId: string }>; searchParams: Promise<{ page?: string }> }) {
  const { db, actor, now } = await requirePage("see recalls");
  const { sourceId } = await props.params;
  const page = Math.max(1, Math.floor(Number((await props.searchParams).page ?? 1)) || 1);
  const source = await forPage(viewSource(db, actor, { id: sourceId, now }));
  const checks = await forPage(listChecks(db, actor, { sourceId, page }));
  const mayLoad = mayDo(actor, "load notices");
  return (
    <>
      <PageHead
        title={source.name}
        lead={source.url}
        crumbs={[{ label: "Recalls", href: "/recalls" }, { label: "Lists", href: "/recalls/lists" }, { label: source.name }]}
        cells={[
          { label: "Stands", value: stateWords(source) },
          { label: "Last checked", value: source.checkedAt ? timeWords(source.checkedAt) : "never" },
          { label: "Notices", value: source.notices === null ? "none yet" : figures(source.notices) },
        ]}
      />
      {source.isBeingChecked && <KeepFresh everyMs={2_000} />}
      <HeldList source={source} mayDecide={mayLoad} />
      <Standing source={source} mayLoad={mayLoad} />
      <PlainSection head="Checks" id="checks">
        {checks.total === 0 ? <p>Nobody has looked at it yet.</p> : <CheckTable checks={checks.rows} withNames={false} />}
        <Pager
          page={page}
          pages={Math.max(1, Math.ceil(checks.total / checksAPage))}
          href={(to) => `/recalls/lists/${sourceId}?page=${to}#checks`}
        />
      </PlainSection>
      {mayLoad && <Settings source={source} />}
      <RecordTimeline db={db} actor={actor} ids={[source.id]} />
    </>
  );
}

function Standing({ source, mayLoad }: { source: ShownSource; mayLoad: boolean }) {
  return (
    <SideSection head="How it stands" note="Only what its publisher changed is sent again: we ask by the marks of the version we have.">
      <DefinitionList
        entries={[
          source.problem === null || source.heldCheckId !== null ? null : ["Last time", source.problem],
          source.failure === null ? null : ["The work on it", source.failure],
          ["Version we have", source.loadedAt ? `taken in ${timeWords(source.loadedAt)}; ${versionWords(source)}` : "none yet"],
          ["Next look", source.isOn ? `${timeWords(source.nextDueAt)}, ${intervalWords(source.everyHours)}` : "paused: nobody looks"],
        ]}
      />
      {mayLoad && (
        <div className={styles.ways}>
          <ActionForm action={checkNow} done="It is being looked at.">
            <input type="hidden" name="id" value={source.id} />
            <Acts>
              <Button look={source.heldCheckId === null ? "main" : "plain"} disabled={source.isBeingChecked}>
                {source.isBeingChecked ? "Being looked at…" : "Check now"}
              </Button>
            </Acts>
          </ActionForm>
        </div>
      )}
    </SideSection>
  );
}

function Settings({ source }: { source: ShownSource }) {
  const which = <input type="hidden" name="id" value={source.id} />;
  return (
    <>
      <SideSection
        head="Name, address, interval"
        note="Under another address the list is fetched whole and at once, and measured by the version we have."
      >
        <ActionForm action={change} done="Changed.">
          {which}
          <Seen values={sourceSeen(source)} />
          <SourceFields key={`${source.name}\n${source.url}\n${source.everyHours}`} source={source} />
          <Acts>
            <Button>Save</Button>
          </Acts>
        </ActionForm>
      </SideSection>
      <SideSection
        head={source.isOn ? "Pause or take off" : "Go on or take off"}
        note="Notices that were taken in stay, and stay compared. So does the account of checks."
      >
        <div className={styles.ways}>
          <ActionForm action={source.isOn ? pause : resume}>
            {which}
            <Acts>
              <Button>{source.isOn ? "Pause" : "Go on looking"}</Button>
            </Acts>
          </ActionForm>
          <ActionForm action={remove}>
            {which}
            <Acts>
              <Button>Take it off the lists</Button>
            </Acts>
          </ActionForm>
        </div>
      </SideSection>
    </>
  );
}
