"use client";

import type { ReactNode } from "react";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { Code } from "@/app/_ui/code";
import { FieldStack, FormWord } from "@/app/_ui/field";
import { useKeptForm } from "@/app/_ui/use-kept-form";
import { invite } from "../actions";

/** The invitation's form; when it is made, its link, which is shown only now. */
export function InviteForm({ children }: { children: ReactNode }) {
  const { result: answer, isPending, form } = useKeptForm(invite);
  if (answer?.ok) return <Invited path={answer.path} isMailed={answer.isMailed} />;
  return (
    <form {...form}>
      <FieldStack>
        <FormWord problem={answer?.problem} />
        {children}
        <Acts>
          <Button look="main" disabled={isPending}>
            Invite
          </Button>
          <ButtonLink href="/people" look="quiet">
            Leave it
          </ButtonLink>
        </Acts>
      </FieldStack>
    </form>
  );
}

function Invited({ path, isMailed }: { path: string; isMailed: boolean }) {
  return (
    <FieldStack>
      <FormWord
        done={
          isMailed ? "Invited: a mail with the link is on its way." : "Invited. No mail is sent from here: hand this link over yourself."
        }
      />
      {!isMailed && (
        <p>
          <Code wrap>{`${window.location.origin}${path}`}</Code>
        </p>
      )}
      <p className="small soft">Whoever opens the link first belongs to the organisation: hand it to nobody else. It is shown only now.</p>
      <Acts>
        <ButtonLink href="/people" look="main">
          Back to people
        </ButtonLink>
      </Acts>
    </FieldStack>
  );
}
