import { useState } from "react";
import type { UseFormReturn } from "react-hook-form";
import type { z } from "zod";
import { Acts, Button } from "@/app/_ui/button";
import { AreaField, FormWord } from "@/app/_ui/field";
import { type ApplianceFields, applianceFieldNames, applianceFieldWords, type applianceForm } from "@/lib/registry/appliance-form";
import { readPlateAction } from "../actions";

export type FormHandle = UseFormReturn<z.input<typeof applianceForm>, unknown, ApplianceFields>;

/** The plate's text as read, and the button that fills the fields from it. A field that holds something else is kept and told. */
export function PlatePaste({ form }: { form: FormHandle }) {
  const [word, setWord] = useState<{ problem?: string; done?: string }>({});
  const fill = async () => {
    const answer = await readPlateAction({ text: form.getValues("labelText") ?? "" });
    if (!answer.ok) return setWord({ problem: answer.problem });
    const { fields, contradictions } = answer.read;
    const names = applianceFieldNames.filter((name) => name in fields);
    const kept = names.filter((name) => {
      const read = fields[name as keyof typeof fields] ?? "";
      const held = String(form.getValues(name) ?? "").trim();
      if (held === "") form.setValue(name, read, { shouldDirty: true, shouldValidate: true });
      return held !== "" && held !== read;
    });
    setWord(
      fillWords(
        names.length,
        kept.map((name) => `${applianceFieldWords[name]} reads ${fields[name as keyof typeof fields]}`),
        contradictions,
      ),
    );
  };
  return (
    <div style={{ marginTop: "var(--s4)" }}>
      <AreaField
        label="The plate's text"
        rows={4}
        code
        hint="Type or paste what the rating plate says, line by line. What the fields below leave empty is read from here."
        error={form.formState.errors.labelText?.message}
        {...form.register("labelText")}
      />
      <Acts>
        <Button type="button" onClick={() => void fill()}>
          Fill the fields from the text
        </Button>
      </Acts>
      <FormWord {...word} />
    </div>
  );
}

function fillWords(count: number, kept: readonly string[], contradictions: readonly string[]): { problem?: string; done?: string } {
  if (count === 0) return { problem: "Nothing was recognised in the text: type what you read into the fields." };
  const parts = [`${count} ${count === 1 ? "field was" : "fields were"} read.`];
  if (kept.length > 0) parts.push(`Kept as you typed: ${kept.join("; ")} in the text.`);
  if (contradictions.length > 0) parts.push(`The plate contradicts itself: ${contradictions.join(" ")}`);
  return { done: parts.join(" ") };
}
