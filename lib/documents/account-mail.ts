import type { Role } from "@/lib/access/actor";

/** Subject and text of a mail. */
export interface MailText {
  readonly subject: string;
  readonly text: string;
}

/** The mail that invites a person. */
export function invitationMail(given: { organisation: string; by: string; role: Role; address: string }): MailText {
  const { organisation, by, role, address } = given;
  return {
    subject: `${by} invites you to ${organisation}`,
    text: [
      `${by} invites you to work in Platewarden for ${organisation}, as ${role}.`,
      "Open this address within a week and choose a password:",
      address,
      "If you did not expect this, do nothing: without the password that you choose there is no account.",
    ].join("\n\n"),
  };
}

/** The mail for a forgotten password. */
export function resetMail({ address }: { address: string }): MailText {
  return {
    subject: "A new password",
    text: [
      "Somebody, probably you, asked for a new password in Platewarden. Open this address within an hour and choose one:",
      address,
      "If it was not you, do nothing: your password stays as it is.",
    ].join("\n\n"),
  };
}
