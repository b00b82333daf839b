"use server";

import { z } from "zod";
import { linkAction } from "@/app/_server/link";
import { mailedAddress } from "@/app/_server/mailed-address";
import { askForReset } from "@/lib/access/forgotten-password";
import { resetMail } from "@/lib/documents/account-mail";
import { queueMessage } from "@/lib/documents/message";

const form = z.object({ email: z.string().trim().min(3, "Give your e-mail address.").max(320) });

/** Mails a link for a new password. The answer is the same whether the address is known or not. */
export const askForNewPassword = linkAction(form, async ({ db, now }, { email }) => {
  mailedAddress("/");
  await askForReset(db, {
    email,
    now,
    send: async (tx, { organisationId, to, token }) => {
      const mail = resetMail({ address: mailedAddress(`/new-password/${token}`) });
      // The mail's text holds the link's secret; it is about the account, which no page of the organisation shows.
      await queueMessage(tx, {
        organisationId,
        kind: "password_reset",
        to,
        ...mail,
        about: { kind: "account", id: to },
        byUserId: null,
        now,
      });
    },
  });
});
