import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { TextField } from "@/app/_ui/field";
import { changeStateAction } from "../actions";
import styles from "./appliance.module.css";

const offers = {
  in_use: [
    ["out_of_use", "Take out of use"],
    ["retired", "Retire"],
  ],
  out_of_use: [
    ["in_use", "Put back in use"],
    ["retired", "Retire"],
  ],
  retired: [["in_use", "Put back in use"]],
} as const;

/** Out of use, back in use, retired: never deleted, so the history and the tag stay. */
export function StateForms({ id, state }: { id: string; state: keyof typeof offers }) {
  return (
    <details className={styles.state}>
      <summary>{offers[state].map(([, words]) => words.toLowerCase()).join(" or ")}</summary>
      <ActionForm action={changeStateAction} done="Recorded.">
        <input type="hidden" name="id" value={id} />
        <TextField
          label="Why"
          name="reason"
          maxLength={500}
          hint="It goes into the record. A retired appliance keeps its tag and its history."
        />
        <Acts>
          {offers[state].map(([to, words]) => (
            <Button key={to} name="state" value={to}>
              {words}
            </Button>
          ))}
        </Acts>
      </ActionForm>
    </details>
  );
}
