import styles from "../bring-in.module.css";

export type Step = "columns" | "bring in" | "done";

/** Where the run is on its way. Kinds that bring their own columns have two steps only. */
export function Steps({ at, kind }: { at: Step; kind: string }) {
  const own = kind === "notices" || kind === "log";
  const steps = own ? ["File", "Bring in"] : ["File", "Columns and cells", "Bring in"];
  const current = at === "done" ? steps.length : at === "columns" ? 1 : steps.length - 1;
  return (
    <ol className={styles.steps}>
      {steps.map((step, index) => (
        <li key={step} className={index < current ? styles.past : undefined} aria-current={index === current ? "step" : undefined}>
          <b>{index + 1}</b> {step}
        </li>
      ))}
    </ol>
  );
}
