import { figures } from "@/app/_ui/account";
import { ActionForm } from "@/app/_ui/action-form";
import { Button } from "@/app/_ui/button";
import { DefinitionList } from "@/app/_ui/definition-list";
import { SideSection } from "@/app/_ui/side-section";
import type { ShownSource } from "@/lib/registry/notice-source-view";
import { leaveHeld, takeHeld } from "../actions";
import styles from "./lists.module.css";
import { timeWords, versionWords } from "./source-words";

/** A fetched list that replaced nothing, with what speaks against it and the two ways on. */
export function HeldList({ source, mayDecide }: { source: ShownSource; mayDecide: boolean }) {
  const { held } = source;
  if (held === null) return null;
  const which = (
    <>
      <input type="hidden" name="id" value={source.id} />
      <input type="hidden" name="checkId" value={held.id} />
    </>
  );
  return (
    <SideSection
      head={`${source.name} waits for a decision`}
      note="It replaced nothing. Until someone decides, appliances are compared with the version we have."
    >
      <p className={styles.reason}>{held.message}</p>
      <DefinitionList
        entries={[
          [
            "Version we have",
            source.notices === null
              ? "none yet"
              : `${figures(source.notices)} notices, taken in ${source.loadedAt ? timeWords(source.loadedAt) : "before"}`,
          ],
          ["Version that waits", `${figures(held.notices ?? 0)} notices, came ${timeWords(held.at)}`],
          ["Its marks", versionWords(held) || "none"],
          ["It came from", held.answeredBy ?? source.url],
        ]}
      />
      {mayDecide && !source.isBeingChecked && (
        <>
          <div className={styles.ways}>
            <ActionForm action={takeHeld} done="It is being taken in.">
              {which}
              <Button look="main">Take it in all the same</Button>
            </ActionForm>
            <ActionForm action={leaveHeld} done="The version we have stays.">
              {which}
              <Button>Keep the version we have</Button>
            </ActionForm>
          </div>
          <p className={`small soft ${styles.note}`}>
            If it is taken in, notices that it lacks are marked as gone from the list. They stay, and stay compared.
          </p>
        </>
      )}
    </SideSection>
  );
}
