import Link from "next/link";
import { DefinitionList } from "@/app/_ui/definition-list";
import { Plate } from "@/app/_ui/plate";
import { asSignalWord, SignalWord } from "@/app/_ui/signal-word";
import { placeLine } from "@/app/(house)/appliances/_parts/place-line";
import { plateOf } from "@/app/(house)/appliances/_parts/plate-of";
import { dayWords } from "@/app/(house)/appliances/_parts/time-words";
import { stateWords } from "@/lib/registry/appliance-state";
import type { InspectionSheet } from "@/lib/registry/inspection-sheet";
import { dueDay } from "../_parts/due-day";

/** What is known of the appliance, in short. */
export function KnownFacts({ sheet }: { sheet: InspectionSheet }) {
  const { view, last } = sheet;
  const zone = view.site?.timeZone ?? null;
  const open = view.findings.filter(({ state }) => state !== "closed");
  const recalls = view.candidates.filter(({ grade, standing }) => grade !== "not_covered" && standing !== "not_affected");
  return (
    <>
      <Plate size="card" plate={plateOf(view.appliance)} />
      <DefinitionList
        entries={[
          ["State", stateWords[view.appliance.state]],
          ["Where", placeLine(view, view.appliance, "within") ?? "not known"],
          ["Last inspection", last ? `${dayWords(last.at, zone)}, ${last.result}` : "never"],
          ["Due", last?.nextDueAt ? dueDay(last.nextDueAt) : "now"],
        ]}
      />
      {open.map((finding) => {
        const word = asSignalWord(finding.signalWord);
        return (
          <p key={finding.id}>
            {word && <SignalWord word={word} />} <Link href={`/findings/${finding.id}`}>{finding.sentence}</Link>
          </p>
        );
      })}
      {recalls.map(({ id, notice, standing }) => (
        <p key={id}>
          {standing === "affected" ? "Recalled: " : "May be recalled: "}
          <Link href={`/recalls/review/${id}`}>{notice.title}</Link>
        </p>
      ))}
    </>
  );
}
