import { figures } from "@/app/_ui/account";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { Progress } from "@/app/_ui/progress";
import { SideSection } from "@/app/_ui/side-section";
import type { PackWork, SitePacks } from "@/lib/jobs/site-packs";
import { stopPack } from "./actions";

/** The packs being made, and those that could not be. */
export function PackWorks({ view: { site, atWork, failed } }: { view: SitePacks }) {
  return (
    <SideSection head="Being made" note="You may leave this page; the making goes on.">
      {atWork.map((work) => (
        <AtWork key={work.day} work={work} siteId={site.id} />
      ))}
      {failed.map(({ day, message }) => (
        <p key={day} role="alert">
          The pack of {day} could not be made: {message ?? "the reason is not known."}
        </p>
      ))}
    </SideSection>
  );
}

function AtWork({ work: { day, state, done, total, cancelAsked }, siteId }: { work: PackWork; siteId: string }) {
  return (
    <>
      <Progress label={`Pack of ${day}`} done={done} total={total}>
        {state === "waiting" ? `${day}: waiting for its turn.` : `${day}: ${rowWords(done, total)}.`}
      </Progress>
      <ActionForm action={stopPack}>
        <input type="hidden" name="siteId" value={siteId} />
        <input type="hidden" name="day" value={day} />
        <Acts>
          <Button disabled={cancelAsked}>{cancelAsked ? "Stopping" : "Stop making it"}</Button>
        </Acts>
      </ActionForm>
    </>
  );
}

function rowWords(done: number, total: number | null): string {
  return total === null ? "gathering what it says" : `${figures(done)} of ${figures(total)} rows drawn`;
}
