import type { SentNotice } from "@/lib/registry/occupant-notice";

const stateWords = {
  queued: "e-mail queued",
  sent: "e-mail handed to the mail server",
  refused: "e-mail refused",
  given_up: "e-mail given up",
} as const;

const minuteWords = (at: Date) => `${at.toISOString().slice(0, 16).replace("T", " ")} UTC`;

function fate({ mail }: SentNotice): string {
  if (!mail) return "printed";
  const problem = mail.problem ? `: ${mail.problem}` : "";
  return `${stateWords[mail.state]}${mail.sentAt ? ` on ${minuteWords(mail.sentAt)}` : ""}${problem}`;
}

/** The notices about a finding: when, how, what became of each mail, and what the occupant said. */
export function SentList({ sent }: { sent: readonly SentNotice[] }) {
  if (sent.length === 0) return <p className="soft">No notice to an occupant yet.</p>;
  return (
    <ul>
      {sent.map((notice) => (
        <li key={notice.id}>
          {minuteWords(notice.at)}: {fate(notice)}.{" "}
          {notice.unpluggedAt ? (
            <b>The occupant says it is unplugged ({minuteWords(notice.unpluggedAt)}).</b>
          ) : (
            "No word from the occupant."
          )}
        </li>
      ))}
    </ul>
  );
}
