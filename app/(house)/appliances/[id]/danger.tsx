import { Acts, ButtonLink } from "@/app/_ui/button";
import { SignalBanner } from "@/app/_ui/signal-banner";
import { asSignalWord, type SignalWordName } from "@/app/_ui/signal-word";
import type { ApplianceView } from "@/lib/registry/appliance-view";

const strength: readonly SignalWordName[] = ["DANGER", "WARNING", "CAUTION", "NOTICE"];

/** What to do now, by signal word; what it is about follows from the findings themselves. */
const doNow: Readonly<Record<SignalWordName, string>> = {
  DANGER: "Stop using it. Unplug it if the plug is cool and dry.",
  WARNING: "Do not use it until this is settled.",
  CAUTION: "Use it with care, and only where it can be watched.",
  NOTICE: "Settle this when you are next here.",
};

const beforeTouching =
  "Never touch what is hot, smoking or wet: switch the circuit off at the panel, get out and call the emergency number. Medical or life-safety equipment: call the person who depends on it first. Do not reset its breaker again and again.";

/** The caution of its worst open finding, and the one thing to do about it. */
export function Danger({ view, mayEdit }: { view: ApplianceView; mayEdit: boolean }) {
  const open = view.findings.filter((finding) => finding.closedAt === null);
  const word = strength.find((name) => open.some((finding) => asSignalWord(finding.signalWord) === name));
  const worst = open.find((finding) => asSignalWord(finding.signalWord) === word);
  if (!word || !worst) return <Calm view={view} mayEdit={mayEdit} />;
  const sentences = [...new Set(open.map((finding) => finding.sentence.replace(/\.$/, "")))];
  return (
    <>
      <SignalBanner word={word} stacked>
        <p>
          <b>{worst.state === "out_of_use" ? "It is out of use: leave it unplugged." : doNow[word]}</b>
        </p>
        <p>
          {sentences.join(". ")}.{word === "DANGER" || word === "WARNING" ? ` ${beforeTouching}` : ""}
        </p>
      </SignalBanner>
      <Acts>
        <ButtonLink look="main" href={`/findings/${worst.id}`}>
          {worst.state === "open" ? "Record: out of use" : "Go on with the finding"}
        </ButtonLink>
        {mayEdit && <ButtonLink href={`/appliances/${view.appliance.id}/edit`}>Change what is known</ButtonLink>}
      </Acts>
    </>
  );
}

/** Nothing is open; a recall candidate that nobody decided on is the next thing to do. */
function Calm({ view, mayEdit }: { view: ApplianceView; mayEdit: boolean }) {
  const undecided = view.candidates.find(
    ({ grade, standing }) => grade !== "not_covered" && standing !== "affected" && standing !== "not_affected",
  );
  const edit = `/appliances/${view.appliance.id}/edit`;
  return (
    <>
      <p className="soft">
        {undecided
          ? `Notice ${undecided.notice.number} may cover it, and nobody has decided yet.`
          : "Nothing is open against it. No match found does not mean not recalled."}
      </p>
      <Acts>
        {undecided && (
          <ButtonLink look="main" href={`/recalls/review/${undecided.id}`}>
            Review notice {undecided.notice.number}
          </ButtonLink>
        )}
        {mayEdit && <ButtonLink href={edit}>Change what is known</ButtonLink>}
      </Acts>
    </>
  );
}
