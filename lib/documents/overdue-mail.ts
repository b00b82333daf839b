import type { MailText } from "./account-mail";

/** The mail about an overdue finding. `address` is its page; null where no public address is set. */
export function overdueMail(given: { signalWord: string; sentence: string; site: string; days: number; address: string | null }): MailText {
  const { signalWord, sentence, site, days, address } = given;
  const late = days < 1 ? "since today" : `for ${days} ${days === 1 ? "day" : "days"}`;
  return {
    subject: `${signalWord}, overdue: ${sentence.slice(0, 120)}`,
    text: [
      `A finding at ${site} has been overdue ${late}:`,
      `${signalWord}. ${sentence}`,
      ...(address === null ? ["Open it in Platewarden under Findings."] : [address]),
      "If the appliance is still in use, take it out of use first. Local codes, the authority having jurisdiction and a licensed electrician come first.",
    ].join("\n\n"),
  };
}
