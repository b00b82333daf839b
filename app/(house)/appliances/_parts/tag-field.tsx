import { useState } from "react";
import { Button } from "@/app/_ui/button";
import { TextField } from "@/app/_ui/field";
import { answerOf } from "@/app/_ui/lost-answer";
import { checkTagCode, isOwnTag } from "@/lib/identity/tag-code";
import type { ApplianceFormText } from "@/lib/registry/appliance-form";
import { issueTagAction } from "../actions";
import type { FormHandle } from "./plate-paste";
import { Theirs } from "./theirs";

/** The tag: ours is checked while typing and refused with the likely reading; a fresh one is a press away. */
export function TagField({ form, theirs }: { form: FormHandle; theirs: Partial<ApplianceFormText> }) {
  const [problem, setProblem] = useState<string>();
  const [isIssuing, setIssuing] = useState(false);
  const typed = form.watch("tag") ?? "";
  const check = typed.trim() !== "" && isOwnTag(typed) ? checkTagCode(typed) : null;
  const likely = check && !check.ok ? check.likely : undefined;
  const set = (tag: string) => form.setValue("tag", tag, { shouldDirty: true, shouldValidate: true });
  const issue = async () => {
    setIssuing(true);
    const answer = await answerOf(() => issueTagAction({}));
    setIssuing(false);
    setProblem(answer.ok ? undefined : answer.problem);
    if (answer.ok) set(answer.tag);
  };
  const act = likely ? (
    <Button type="button" look="quiet" onClick={() => set(likely)}>
      Take {likely}
    </Button>
  ) : (
    <Button type="button" look="quiet" disabled={isIssuing} onClick={() => void issue()}>
      Issue a fresh tag
    </Button>
  );
  return (
    <TextField
      label="Tag"
      code
      autoComplete="off"
      error={form.formState.errors.tag?.message ?? problem ?? (check && !check.ok ? check.problem : undefined)}
      hint={"tag" in theirs ? <Theirs form={form} name="tag" theirs={theirs} /> : act}
      {...form.register("tag")}
    />
  );
}
