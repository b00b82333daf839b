"use client";

import { zodResolver } from "@hookform/resolvers/zod";
import { useState } from "react";
import { useForm } from "react-hook-form";
import type { z } from "zod";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { FieldStack, FormWord } from "@/app/_ui/field";
import { answerOf } from "@/app/_ui/lost-answer";
import type { DraftChoices } from "@/lib/registry/appliance-draft";
import { type ApplianceFields, type ApplianceFormText, applianceFieldNames, applianceForm } from "@/lib/registry/appliance-form";
import { addApplianceAction, editApplianceAction } from "../actions";
import { FieldGroups } from "./field-groups";
import { PlatePaste } from "./plate-paste";

export interface ApplianceFormProps {
  readonly choices: DraftChoices;
  readonly text: ApplianceFormText;
  /** The appliance being edited; a new one has none. */
  readonly editing: { readonly id: string; readonly version: number } | null;
  /** The id that a new one will have. */
  readonly formId?: string;
  readonly cancelHref: string;
}

const asText = (value: unknown) => (typeof value === "string" || typeof value === "number" ? String(value) : "");

/** The appliance form: the schema checks while typing, the server checks again. Somebody else's change is shown beside one's own. */
export function ApplianceForm({ choices, text, editing, formId, cancelHref }: ApplianceFormProps) {
  const form = useForm<z.input<typeof applianceForm>, unknown, ApplianceFields>({
    resolver: zodResolver(applianceForm),
    defaultValues: text,
    mode: "onBlur",
  });
  const [problem, setProblem] = useState<string>();
  const [version, setVersion] = useState(editing?.version ?? 0);
  const [base, setBase] = useState(text);
  const [theirs, setTheirs] = useState<Partial<ApplianceFormText>>({});

  const showConflict = (conflict: { version: number; theirs: ApplianceFields }) => {
    const mine = form.getValues();
    // What only they changed is taken over; what both changed is shown, and one's own value stands until one chooses.
    const changed = applianceFieldNames.filter((name) => asText(conflict.theirs[name]) !== base[name]);
    const differing = changed.filter((name) => asText(mine[name]) !== base[name] && asText(mine[name]) !== asText(conflict.theirs[name]));
    for (const name of changed) if (asText(mine[name]) === base[name]) form.setValue(name, asText(conflict.theirs[name]));
    setVersion(conflict.version);
    setBase(Object.fromEntries(applianceFieldNames.map((name) => [name, asText(conflict.theirs[name])])) as ApplianceFormText);
    setTheirs(Object.fromEntries(differing.map((name) => [name, asText(conflict.theirs[name])])));
    setProblem(
      differing.length === 0
        ? "Somebody else changed other fields meanwhile; their values are in the form now. Save again to keep both."
        : "Somebody else changed this appliance while you did. Their values stand beside yours: choose, and save again.",
    );
  };

  const send = form.handleSubmit(async (fields) => {
    setProblem(undefined);
    const answer = await answerOf<Awaited<ReturnType<typeof editApplianceAction>> | Awaited<ReturnType<typeof addApplianceAction>>>(() =>
      editing ? editApplianceAction({ ...fields, id: editing.id, version }) : addApplianceAction({ ...fields, formId }),
    );
    if (answer.ok) {
      if ("conflict" in answer) showConflict(answer.conflict);
      return;
    }
    setProblem(answer.problem);
    const sentences: Readonly<Record<string, string>> = answer.fields;
    for (const name of applianceFieldNames) {
      const sentence = sentences[name];
      if (sentence) form.setError(name, { message: sentence });
    }
  });

  return (
    <form onSubmit={send} noValidate aria-busy={form.formState.isSubmitting}>
      <FieldStack>
        <FormWord problem={problem} />
        <PlatePaste form={form} />
        <FieldGroups form={form} choices={choices} theirs={theirs} isNew={editing === null} />
        <Acts>
          <Button look="main" disabled={form.formState.isSubmitting}>
            {editing ? "Save" : "Add the appliance"}
          </Button>
          <ButtonLink look="quiet" href={cancelHref}>
            Leave it as it was
          </ButtonLink>
        </Acts>
      </FieldStack>
    </form>
  );
}
