import { proofStatement } from "@/lib/matching/proof-statement";
import type { NegativeProof } from "@/lib/registry/negative-proof";
import { zonedWords } from "./proof-words";
import styles from "./statement.module.css";

/** What was compared with what, what came of it, and what that does not say. */
export function Statement({ proof }: { proof: NegativeProof }) {
  const { site, one, at, rows, counts, lists, notices, unproved } = proof;
  const sums = { appliances: rows.length, lists: lists.length, notices, unproved: unproved.length };
  const said = proofStatement({ site: site.name, tag: one?.tag ?? null, at: zonedWords(at, site.timeZone), counts, ...sums });
  return (
    <div className={styles.statement}>
      {said.map((words) => (
        <p key={words}>{words}</p>
      ))}
    </div>
  );
}
