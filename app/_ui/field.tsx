import { type ComponentProps, type ReactNode, useId } from "react";
import styles from "./field.module.css";

interface FieldWords {
  readonly label: ReactNode;
  /** How to read or write it, below the field. */
  readonly hint?: ReactNode;
  /** One sentence: what is wrong and how to mend it. */
  readonly error?: string | undefined;
}

/** Label, control, hint and error. The control carries `id`, and `describedBy` when there is a hint or an error. */
export function Field(props: FieldWords & { id: string; children: ReactNode }) {
  const { label, hint, error, id, children } = props;
  return (
    <div className={error ? `${styles.field} ${styles.bad}` : styles.field}>
      <label className={styles.label} htmlFor={id}>
        {label}
      </label>
      {children}
      {error && (
        <span className={styles.error} id={`${id}-why`} role="alert">
          {error}
        </span>
      )}
      {hint && (
        <span className={styles.hint} id={`${id}-hint`}>
          {hint}
        </span>
      )}
    </div>
  );
}

function controlProps(id: string, { hint, error }: FieldWords, code = false) {
  const described = [error ? `${id}-why` : "", hint ? `${id}-hint` : ""].filter(Boolean).join(" ");
  const className = code ? `${styles.in} ${styles.code}` : styles.in;
  return { id, className, "aria-invalid": error ? true : undefined, "aria-describedby": described || undefined };
}

/** A one-line field. Other props (also `ref` and what a form library registers) go to the input. `code` for identifiers. */
export function TextField({ label, hint, error, code, id, ...rest }: FieldWords & { code?: boolean } & ComponentProps<"input">) {
  const made = useId();
  const words = { label, hint, error };
  return (
    <Field {...words} id={id ?? made}>
      <input type="text" {...rest} {...controlProps(id ?? made, words, code)} />
    </Field>
  );
}

/** A field of several lines. */
export function AreaField({ label, hint, error, code, id, ...rest }: FieldWords & { code?: boolean } & ComponentProps<"textarea">) {
  const made = useId();
  const words = { label, hint, error };
  return (
    <Field {...words} id={id ?? made}>
      <textarea {...rest} {...controlProps(id ?? made, words, code)} />
    </Field>
  );
}

/** A choice from a list; the options are its children. */
export function SelectField({ label, hint, error, id, ...rest }: FieldWords & ComponentProps<"select">) {
  const made = useId();
  const words = { label, hint, error };
  return (
    <Field {...words} id={id ?? made}>
      <select {...rest} {...controlProps(id ?? made, words)} />
    </Field>
  );
}

/** The options of a choice among named things. */
export function NamedOptions({ list }: { list: readonly { readonly id: string; readonly name: string }[] }) {
  return list.map(({ id, name }) => (
    <option key={id} value={id}>
      {name}
    </option>
  ));
}

/** A tick with its words beside it. */
export function CheckField({ label, ...rest }: { label: ReactNode } & ComponentProps<"input">) {
  return (
    <label className={styles.check}>
      <input type="checkbox" {...rest} />
      <span>{label}</span>
    </label>
  );
}

/** The class of a bare tick box, as in a table's first column. */
export const tickClass = styles.box;

/** Fields side by side where there is room. */
export function FieldColumns({ children }: { children: ReactNode }) {
  return <div className={styles.columns}>{children}</div>;
}

/** Fields below each other. */
export function FieldStack({ children }: { children: ReactNode }) {
  return <div className={styles.set}>{children}</div>;
}

/** What went wrong with the whole form, or what was done. */
export function FormWord({ problem, done }: { problem?: string | undefined; done?: string | undefined }) {
  if (problem) {
    return (
      <p className={styles.problem} role="alert">
        {problem}
      </p>
    );
  }
  return done ? (
    <p className={styles.done} role="status">
      {done}
    </p>
  ) : null;
}
