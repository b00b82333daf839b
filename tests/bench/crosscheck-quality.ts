import { crossCheck } from "@/lib/matching/cross-check";
import type { RecallIndex } from "@/lib/matching/recall-index";
import type { BenchResult } from "./bench-result";
import type { SyntheticRegistry } from "./synthetic-registry";

interface Tally {
  covered: number;
  missed: number;
  asked: number;
  missedByKind: Record<string, number>;
  /** Missed with a wrong digit among the errors: one different digit never alerts by itself, as siblings differ by one. */
  missedWithWrongDigit: number;
  falseAlarms: number;
  looks: number;
  /** Looks that ask for nothing but an unread manufacture date. */
  looksForDate: number;
  looksByLevel: Record<string, number>;
}

function add(counts: Record<string, number>, key: string): void {
  counts[key] = (counts[key] ?? 0) + 1;
}

function judge(index: RecallIndex, registry: SyntheticRegistry): Tally {
  const tally: Tally = {
    covered: 0,
    missed: 0,
    asked: 0,
    missedByKind: {},
    missedWithWrongDigit: 0,
    falseAlarms: 0,
    looks: 0,
    looksForDate: 0,
    looksByLevel: {},
  };
  for (const appliance of registry.appliances) {
    const truth = registry.truth.get(appliance.id) ?? [];
    const found = crossCheck(index, appliance, { withoutIdentifiers: false });
    const alerts = new Set(found.filter(({ grade }) => grade !== "check_label").map(({ noticeKey }) => noticeKey));
    const all = new Set(found.map(({ noticeKey }) => noticeKey));
    if (truth.length > 0) {
      tally.covered++;
      if (!truth.some((key) => all.has(key))) {
        tally.missed++;
        if (registry.errors.get(appliance.id)?.includes("digit")) tally.missedWithWrongDigit++;
        add(
          tally.missedByKind,
          (registry.errors.get(appliance.id) ?? []).filter((kind) => !["case", "separator", "made unknown"].includes(kind)).join(" + ") ||
            "clean",
        );
      } else if (!truth.some((key) => alerts.has(key))) tally.asked++;
    } else if (alerts.size > 0) tally.falseAlarms++;
    const asks = found.filter(({ grade }) => grade === "check_label");
    if (asks.length > 0) {
      tally.looks++;
      if (asks.every(({ ask }) => ask?.field === "made")) tally.looksForDate++;
      add(tally.looksByLevel, `${asks[0]?.reasons[0]?.level} ${asks[0]?.ask?.field}`);
    }
  }
  return tally;
}

const perThousand = (count: number, of: number): number => Math.round((count / of) * 100_000) / 100;
const percent = (count: number, of: number): number => (of === 0 ? 0 : Math.round((count / of) * 10_000) / 100);

/** Missed recalls, false alarms and looks on known truth. Notices without identifiers are left out: no fact could tell. */
export function measureQuality(index: RecallIndex, registry: SyntheticRegistry, level: number): BenchResult[] {
  const tally = judge(index, registry);
  const n = registry.appliances.length;
  return [
    {
      bench: "crosscheck",
      measure: `synthetic truth, errors of level ${level}`,
      ours: {
        missedPercent: percent(tally.missed, tally.covered),
        missedWithoutWrongDigitPercent: percent(tally.missed - tally.missedWithWrongDigit, tally.covered),
        askedPercent: percent(tally.asked, tally.covered),
        falseAlarmsPerThousand: perThousand(tally.falseAlarms, n),
        looksPerThousand: perThousand(tally.looks, n),
        looksForDatePerThousand: perThousand(tally.looksForDate, n),
      },
      n,
      trulyCovered: tally.covered,
      missedByError: tally.missedByKind,
      looksByLevel: tally.looksByLevel,
    },
  ];
}
